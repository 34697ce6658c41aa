"""Where the table's refuse differs from SR28's, and why. Both the table and the source are tested against this."""

CORRECTED = {
    ("05066", ""): (66, 33, "bone counted twice (33 % + 33 %)"),
    ("05069", "roasted"): (61, 33, "bone counted twice (33 % + 28 %)"),
    ("05091", ""): (0, 15, "none stated; bone as published for the same cut, 05691"),
    ("05094", "roasted"): (33, 17, "bone counted twice (17 % + 16 %)"),
    ("05096", ""): (25, 40, "skin and fat only; bone of the same cut, 15 %, added"),
    ("05098", "roasted"): (48, 32, "the parts named sum to 32 (17 bone, 15 skin and fat)"),
    ("05348", "roasted"): (0, 26, "none stated; bone as in 05342"),
    ("05351", "roasted"): (0, 14, "none stated; bone as in 05345"),
    ("15157", ""): (0, 85, "the flesh alone; a pound in the shell gives 68 g of it"),
}
"""NDB number and method: SR28's refuse in %, ours, and the reason."""

NOTHING_LEFT = frozenset(
    (
        "canned cherries",
        "ground almonds",
        "new potato",
        "pulled pork",
        "shredded chicken",
        "sliced almonds",
        "slivered almonds",
    )
)
"""Foods whose SR28 row has refuse and whose form has none: pitted, shelled, boned, or eaten with the skin."""
