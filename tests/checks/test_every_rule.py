"""Every rule has teeth: a book that passes and one that does not, and it is asked at all."""

import pkgutil

import pytest

from tests.checks.rule_cases import CASES
from wayfold.checks import rules
from wayfold.checks.rules import RULES, check_book

MODULES = sorted(module.name for module in pkgutil.iter_modules(rules.__path__))


def test_every_module_of_rules_has_its_two_books() -> None:
    assert sorted(CASES) == MODULES


@pytest.mark.parametrize("name", MODULES)
def test_a_rule_lets_the_one_pass_and_names_the_other(name: str) -> None:
    (rule,) = (rule for rule in RULES if rule.__module__ == f"{rules.__name__}.{name}")
    passes, fails = (make() for make in CASES[name])
    assert list(rule(passes)) == []
    found = list(rule(fails))
    assert found
    assert all(f.where and f.message and f.remedy for f in found)
    assert set(found) <= set(check_book(fails))
