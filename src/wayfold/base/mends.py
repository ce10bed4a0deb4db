"""Where the person puts things right: a remedy says what, a mend says where.

Whoever sits before the book's files and a command line reads a mend as it stands here; every other
door puts its own words in the place of these, which are long enough to stand in no other meaning.
"""

from __future__ import annotations

from enum import StrEnum


class Mend(StrEnum):
    """A place where something is decided or made, in the words of the files and the commands."""

    PHOTOGRAPHS = "photographs in book.toml"
    OPENING_PHOTO = "opening_photo in book.toml"
    STYLE = "[style] in book.toml"
    PLAN = "[plan] in book.toml"
    PRICES = "[plan.prices] in book.toml"
    WAYS = "[layout.ways] in book.toml"
    BY_HAND = "[layout.by_hand] in book.toml"
    STOCK = "[[stock]] in book.toml"
    BLOCK = "block_mm under [case] in book.toml"
    PROFILE = "profile under [printer] in book.toml"
    PICK = "pick in photos.toml"
    CROP = "crop in photos.toml"
    STOPS = "[[stop]] in trip.toml"
    LEGS = "[[leg]] in trip.toml"
    LODGINGS = "[[lodging]] in trip.toml"
    LEAVE_OUT = "leave_out in trip.toml"
    CLOCKS = "[clocks] in trip.toml"
    CLOCK_PICTURES = "[[clock_picture]] in trip.toml"
    UNITS = "units in trip.toml"
    FLAGS = "flags in trip.toml"
    NEW = "wayfold new"
    MAKE = "wayfold make"
    CHOOSE = "wayfold choose"
    ARRANGE = "wayfold arrange"
    SETUP = "wayfold setup"
    REGISTER = "wayfold register"
    PRINTED = "wayfold printed"
    HISTORY = "wayfold history"
    COPIES = "wayfold copies"
