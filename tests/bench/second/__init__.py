"""A second simulated studio, written apart from the rules, to judge forecasters on.

Its mechanisms are signs and common practice of the trade and the physics of clay, coat and melt:
each has a ramp in what really happened and a strength, and all of these figures are estimates.
They were written without sight of the rule base and of the learner, and weights of the rules were
not fitted to them. It is no longer a blind test of everything: which facts
``diagnose/learning/beliefs.py`` holds was learnt in part from where forecasts failed here.

What stays hidden (habits of a glaze, a body, a firing and a tile, errors of computed expansion and
maturing) and how much is written down were set before any forecaster of ours was run, so that
gradient boosting trained on some three hundred other studios closes about 0.50 to 0.55 of the gap
between base rate and truth for glazes it has not seen. Like the first bench it ranks ways of
learning and promises no accuracy in a real studio.
"""
