"""Rules about food and weights, independent of messages, databases and clocks.

Values are frozen dataclasses in grams and kilocalories; functions take values and return values. The only files read
are this package's own tables: `units.csv` and those in `reference/`.

    quantities       units of mass and volume, by region and on labels
    nutrients        nutrient vectors, energy factors, sums with unknown parts
    labels           nutrition labels, and whether their figures are consistent
    foods            foods with their states, refuse, measures and pieces
    reference        the built-in food table
    edible           whole to edible weight, gross to net weight
    batches          raw and cooked weight, portions, boxes, what is left
    yields           published cooking yields, for checking a cooked weight
    weighins         weigh-ins and the evidence for their amounts
    uncertainty      the range of a day's energy
    bodyweight       body weight and its trend
    energy_balance   energy expenditure estimated from intake and body weight
    targets          daily targets, computed and limited
    cautions         storage times and very low intake
"""
