"""A third simulated studio, written apart from the rules, the learner and the other two benches.

Its mechanisms are a working potter's judgement of a classroom kiln and a small mid-range studio:
common practice and estimates throughout, graded, acting on what really happened and combined as a
noisy or. How sharply a mechanism acts, how far readings err and how much is written down were set
by how far gradient boosting, trained on 120 other studios of 250 tiles, closes the gap between base
rate and truth: .44, or .49 with each studio's own rate known. Forecasts were scored on it once
before and once after the curves of ``diagnose/expected`` came in, and no weight was chosen by it.
Like the others it ranks ways of learning and promises no accuracy in a real studio.
"""
