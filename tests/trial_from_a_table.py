"""A trial burn out of a table in memory (the kit's invented one), and what it says of a kiln's stone."""

import pandas as pd

import limekit

table = pd.read_csv(limekit.example_path("trial_example.csv"), comment="#")
trial = limekit.read_trial(table)
found = limekit.assess_trial(trial)
print(found)
print(f"80 mm at 1000 degC: {found.forecast('80 mm', '1000 degC')}")
