"""Rules about food and weights, independent of messages, databases and clocks.

Values are frozen dataclasses in grams and kilocalories; functions take values and return values. The only files read
are this package's own tables: `units.csv` and those in `reference/`.

    quantities         units of mass and volume, by region and on labels
    nutrients          nutrient vectors, energy factors, sums with unknown parts
    labels             nutrition labels, and whether their figures are consistent
    foods              foods with their states, refuse, measures and pieces
    reference          the built-in food table
    edible             whole to edible weight, gross to net weight
    batches            a batch: raw and cooked weight, portions, what is left
    batch_steps        the steps of which a batch is the ordered list
    batch_corrections  the steps with every correction applied where it belongs
    pots               the content of a pot over time, computed from the steps
    draws              what leaves a batch: by weight, share, piece or box
    recipes            an earlier batch's ingredients, scaled for cooking again
    yields             published cooking yields, for checking a cooked weight
    weighins           weigh-ins and the evidence for their amounts
    table_errors       how far a plate may be from its row of the table
    uncertainty        the range of a day's energy
    bodyweight         body weight and its trend
    energy_balance     energy expenditure estimated from intake and body weight
    targets            daily targets, computed and limited
    storage            how long food keeps
    cautions           limits behind cautions
    errors             the package's exceptions
"""
