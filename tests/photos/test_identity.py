"""Who is who when files move, are renamed, copied, edited and lost."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from wayfold.base.hashing import hash_bytes
from wayfold.photos.catalogue import KnownFile
from wayfold.photos.identity import ID_DIGITS, Matching, SeenFile, match_files

A, B, C = (hash_bytes(name) for name in (b"a", b"b", b"c"))


def ids(matching: Matching) -> dict[str, str]:
    return {p.path: p.id for p in matching.pictures}


def test_new_picture_is_named_by_its_content() -> None:
    matching = match_files([SeenFile("/x/1.jpg", A)], {})
    assert ids(matching) == {"/x/1.jpg": A[:ID_DIGITS]}
    assert matching.missing == ()


def test_moved_and_renamed_keeps_its_id() -> None:
    matching = match_files([SeenFile("/y/z.jpg", A)], {"p1": KnownFile("/x/1.jpg", A)})
    assert ids(matching) == {"/y/z.jpg": "p1"}


def test_edited_in_place_keeps_its_id() -> None:
    (picture,) = match_files([SeenFile("/x/1.jpg", B)], {"p1": KnownFile("/x/1.jpg", A)}).pictures
    assert (picture.id, picture.content) == ("p1", B)


def test_edited_in_place_while_the_old_bytes_lie_elsewhere_is_another_picture() -> None:
    seen = [SeenFile("/x/1.jpg", B), SeenFile("/x/1-original.jpg", A)]
    matching = match_files(seen, {"p1": KnownFile("/x/1.jpg", A)})
    assert ids(matching) == {"/x/1-original.jpg": "p1", "/x/1.jpg": B[:ID_DIGITS]}


def test_two_files_that_swap_names_keep_their_ids() -> None:
    known = {"p1": KnownFile("/1.jpg", A), "p2": KnownFile("/2.jpg", B)}
    matching = match_files([SeenFile("/1.jpg", B), SeenFile("/2.jpg", A)], known)
    assert ids(matching) == {"/1.jpg": "p2", "/2.jpg": "p1"}


def test_copies_are_one_picture_read_from_the_known_path() -> None:
    seen = [SeenFile(p, A) for p in ("/a.jpg", "/m.jpg", "/z.jpg")]
    (picture,) = match_files(seen, {"p1": KnownFile("/m.jpg", A)}).pictures
    assert (picture.path, picture.copies) == ("/m.jpg", ("/a.jpg", "/z.jpg"))
    (picture,) = match_files(seen, {}).pictures
    assert (picture.path, picture.copies) == ("/a.jpg", ("/m.jpg", "/z.jpg"))


def test_lost_picture_is_missing() -> None:
    matching = match_files([], {"p2": KnownFile("/2.jpg", B), "p1": KnownFile("/1.jpg", A)})
    assert matching.missing == ("p1", "p2")


def test_edited_into_the_likeness_of_another_leaves_one_picture() -> None:
    known = {"p1": KnownFile("/1.jpg", A), "p2": KnownFile("/2.jpg", B)}
    matching = match_files([SeenFile("/1.jpg", A), SeenFile("/2.jpg", A)], known)
    assert [p.id for p in matching.pictures] == ["p1"]
    assert matching.pictures[0].copies == ("/2.jpg",)
    assert matching.missing == ("p2",)


def test_id_grows_where_its_digits_are_taken() -> None:
    # The id was given for content A, the picture was edited since, now A lies there again.
    known = {A[:ID_DIGITS]: KnownFile("/1.jpg", B)}
    matching = match_files([SeenFile("/1.jpg", B), SeenFile("/2.jpg", A)], known)
    assert ids(matching) == {"/1.jpg": A[:ID_DIGITS], "/2.jpg": A[: ID_DIGITS + 1]}


def test_id_is_free_even_where_a_book_has_taken_all_lengths() -> None:
    known = {A[:n]: KnownFile(f"/{n}.jpg", hash_bytes(b"%d" % n)) for n in range(12, 33)}
    matching = match_files([SeenFile("/new.jpg", A)], known)
    assert ids(matching) == {"/new.jpg": f"{A}-2"}


CONTENTS = st.sampled_from([hash_bytes(bytes([n])) for n in range(8)])
PATHS = st.sampled_from([f"/p/{n}.jpg" for n in range(8)])
FILES = st.dictionaries(PATHS, CONTENTS).map(lambda d: [SeenFile(p, c) for p, c in d.items()])
KNOWN = st.dictionaries(
    st.sampled_from(["p1", "p2", "p3", "p4", "p5", hash_bytes(b"\0")[:12]]),
    st.builds(KnownFile, PATHS, CONTENTS),
)


@given(FILES, KNOWN)
def test_every_file_belongs_to_exactly_one_picture(
    files: list[SeenFile], known: dict[str, KnownFile]
) -> None:
    matching = match_files(files, known)
    described = [path for p in matching.pictures for path in (p.path, *p.copies)]
    assert sorted(described) == sorted(f.path for f in files)
    assert len({p.id for p in matching.pictures}) == len(matching.pictures)
    assert len({p.content for p in matching.pictures}) == len(matching.pictures)
    content = {f.path: f.content for f in files}
    assert all(
        content[path] == p.content for p in matching.pictures for path in (p.path, *p.copies)
    )


@given(FILES, KNOWN)
def test_known_is_found_or_missing_never_both(
    files: list[SeenFile], known: dict[str, KnownFile]
) -> None:
    matching = match_files(files, known)
    found = {p.id for p in matching.pictures}
    assert found.isdisjoint(matching.missing)
    assert set(known) <= found | set(matching.missing)
    # A known content that lies there is owned by an id that had it.
    by_content = {p.content: p.id for p in matching.pictures}
    for old in known.values():
        if old.content in by_content:
            assert known[by_content[old.content]].content == old.content


@given(FILES, KNOWN, st.randoms())
def test_order_does_not_matter(files: list[SeenFile], known: dict[str, KnownFile], random) -> None:  # type: ignore[no-untyped-def]
    shuffled, pairs = list(files), list(known.items())
    random.shuffle(shuffled)
    random.shuffle(pairs)
    assert match_files(shuffled, dict(pairs)) == match_files(files, known)


def remember(matching: Matching, known: dict[str, KnownFile]) -> dict[str, KnownFile]:
    return known | {p.id: KnownFile(p.path, p.content) for p in matching.pictures}


@given(FILES, KNOWN)
def test_second_look_changes_nothing(files: list[SeenFile], known: dict[str, KnownFile]) -> None:
    first = match_files(files, known)
    second = match_files(files, remember(first, known))
    assert {p.content: p.id for p in second.pictures} == {p.content: p.id for p in first.pictures}


@given(st.dictionaries(PATHS, CONTENTS, min_size=1), st.permutations([f"/q/{n}" for n in range(8)]))
def test_any_renaming_heals(lie: dict[str, str], names: list[str]) -> None:
    first = match_files([SeenFile(p, c) for p, c in lie.items()], {})
    moved = [SeenFile(n, c) for n, c in zip(names, lie.values(), strict=False)]
    second = match_files(moved, remember(first, {}))
    assert {p.content: p.id for p in second.pictures} == {p.content: p.id for p in first.pictures}
    assert second.missing == ()


@given(st.lists(CONTENTS, unique=True, min_size=1), st.data())
def test_any_editing_in_place_keeps_ids(contents: list[str], data: st.DataObject) -> None:
    lie = {f"/p/{n}.jpg": c for n, c in enumerate(contents)}
    first = match_files([SeenFile(p, c) for p, c in lie.items()], {})
    edited = {
        path: hash_bytes(path.encode()) if data.draw(st.booleans()) else content
        for path, content in lie.items()
    }
    second = match_files([SeenFile(p, c) for p, c in edited.items()], remember(first, {}))
    assert ids(second) == ids(first)
