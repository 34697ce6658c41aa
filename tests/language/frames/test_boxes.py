"""Boxes that are filled and moved, in any wording."""

from __future__ import annotations

import pytest

from .kitchen import told


@pytest.mark.parametrize(
    ("kitchen", "text", "meant"),
    (
        ("stew", "right, stew's been shared out between seven tubs, all even", ["box 7"]),
        ("stew", "got 7 portions outta that stew, equal", ["box 7"]),
        ("stew", "stew makes 8 portions", ["box 8"]),
        ("stew", "filled 5 jars with stew 500g a jar", ["box 5 of 500 g"]),
        ("stew", "stew now sits in 4 boxes, 450 in each, remainder stays in the pot", ["box 4 of 450 g"]),
        ("stew", "we did meal prep: stew split 7 ways into boxes", ["box 7"]),
        ("stew", "I have put the stew in five tiffin boxes, 400 g each, and rest we will eat now", ["box 5 of 400 g"]),
        ("stew", "two tubs of stew for the freezer, 600 g apiece", ["box 2 of 600 g (freezer)"]),
        ("stew", "sorted the stew. 6 containers. same in each.", ["box 6"]),
        ("stew", "stew = 6 boxes", ["box 6"]),
        ("stew", "six boxes made from the stew", ["box 6"]),
        ("stew", "stew 6 bx", ["box 6"]),
        ("soup", "popped two of the soups in the freezer", ["move 2 to the freezer"]),
        ("boxed", "five of the stew boxes are in the freezer now", ["move 5 to the freezer"]),
        ("boxed", "bunged 3 stew boxes in the freezer", ["move 3 to the freezer"]),
        ("boxed", "stew: 6 to the freezer, 2 stay in the fridge", ["move 6 to the freezer"]),
        ("boxed", "4 stews straight into the freezer", ["move 4 to the freezer"]),
        ("boxed", "three stew tubs for the freezer", ["move 3 to the freezer"]),
        ("soup", "took a soup box out of the freezer to thaw", ["move 1 to the fridge"]),
        ("soup", "defrosting one soup box", ["move 1 to the fridge"]),
        ("soup", "moved 1 soup from freezer to fridge", ["move 1 to the fridge"]),
        ("boxed", "put all the stew boxes in the freezer", ["move all to the freezer"]),
        ("stew", "that's the stew sorted into 5 lunchboxes @ 450g", ["box 5 of 450 g"]),
        ("stew", "I have packed the stew, seven dabbas, same quantity in all", ["box 7"]),
        ("stew", "jarred up the stew, 4 jars, half a kilo a jar", ["box 4 of 500 g"]),
        (
            "stew",
            "stew's done and dusted: nine wee tubs of 250, rest goes in the dog bowl no just kidding rest later",
            ["box 9 of 250 g"],
        ),
        ("stew", "have divided stew equally in 4 containers", ["box 4"]),
        ("stew", "okay the stew got portioned, six containers fourteen ounces each", ["box 6 of 396.9 g"]),
        ("stew", "3 tubs from the stew at 600, 2 of them for the freezer", ["box 3 of 600 g", "move 2 to the freezer"]),
        ("boxed", "chucked four of them stew tubs in the freezer", ["move 4 to the freezer"]),
        ("soup", "last two fridge soups now frozen as well", ["move 2 to the freezer"]),
        ("soup", "one soup tub coming out the freezer to defrost", ["move 1 to the fridge"]),
        ("stew", "tonight's stew went in 5 tubs, 500 grammes a tub", ["box 5 of 500 g"]),
        ("stew", "Please note: from stew I make 6 box, every box same", ["box 6"]),
        ("stew", "stew. 7 portions. weighed equal", ["box 7"]),
        ("boxed", "stashed six stew boxes in the deep freeze", ["move 6 to the freezer"]),
    ),
)
def test_what_goes_into_boxes_is_understood(kitchen: str, text: str, meant: list[str]) -> None:
    assert told(kitchen, text) == meant
