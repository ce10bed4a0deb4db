"""Every rule has teeth: a book that passes and one that does not, and it is asked at all."""

import pkgutil
from importlib import import_module

import pytest

from tests.checks.rule_cases import CASES
from wayfold.checks import rules
from wayfold.checks.rules import RULES, Rule, check_book

MODULES = sorted(module.name for module in pkgutil.iter_modules(rules.__path__))


def list_rules(name: str) -> list[Rule]:
    """The rules that a module defines: what is public in it and finds."""
    module = import_module(f"{rules.__name__}.{name}")
    return [
        value
        for key, value in vars(module).items()
        if key.startswith("find_") and value.__module__ == module.__name__
    ]


def test_every_module_of_rules_has_its_two_books() -> None:
    assert sorted(CASES) == MODULES


@pytest.mark.parametrize("name", MODULES)
def test_a_rule_lets_the_one_pass_and_names_the_other(name: str) -> None:
    (rule,) = list_rules(name)
    passes, fails = (make() for make in CASES[name])
    assert list(rule(passes)) == []
    found = list(rule(fails))
    assert found
    assert all(f.where and f.message and f.remedy for f in found)
    assert rule in RULES
    assert set(found) <= set(check_book(fails))
