"""Food, weights and people's rules, and nothing else.

Values are frozen dataclasses in grams and kilocalories; functions take values and return values. Nothing here knows
of messages, a database or a clock, and the only files that are read are the tables in `domain/reference/`.

    quantities   mass and volume: scale units, label units, kitchen units by region
    nutrients    nutrient vectors, energy factors, sums that say what they do not know
    labels       what a packet prints, and whether it can be true
    foods        a food, its states, its refuse, its measures and pieces
    reference    the built-in food table
    edible       whole to edible, gross to net
    batches      raw, cooked, poured off, boxed, portions, what is left
    yields       published cooking yields, to ask about a cooked weight that cannot be right
    weighins     what one weigh-in is, and how good its evidence is
    bodyweight   a person's own weight and its trend
"""
