"""Nobody is told anything of anybody who has not let them in, whatever is said, pressed, forged or guessed."""

from tests.access.prying import run

SEEN = (
    "consents", "kitchens joined", "seen", "erased", "exports", "withheld", "weights seen", "private seen",
    "covers", "covers over", "templates", "pages", "files", "cautions seen", "comments seen",
)  # fmt: skip


def test_nobody_gets_to_see_what_is_not_theirs() -> None:
    counted = run(scripts=8, steps=100)
    # Scripts in which nobody ever sees anything would prove nothing.
    assert min(counted[kind] for kind in SEEN) > 0, counted
