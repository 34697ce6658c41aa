"""The random scripts notice each check that is taken out, or they would prove nothing."""

import pytest

from tests.access.checks import CHECKS, noticed


@pytest.mark.parametrize("check", CHECKS)
def test_a_missing_check_is_noticed(check: str) -> None:
    assert noticed(check) is not None
