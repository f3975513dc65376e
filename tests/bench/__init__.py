"""A simulated studio with known chances and causes, and a bench to judge forecasters on it.

The mechanisms are written from the physics and practice of the trade as smooth hazards that add
up; they share no weight, threshold or form with the rule base. What is measured here ranks ways
of learning. It promises no accuracy in a real studio, and nothing here tunes what is shipped.
"""
