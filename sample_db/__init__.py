"""An invented studio-school, two years of its test tiles, and the script that puts them on record.

Everything here is made up: no school, pupil, maker or brand behind it.
"""
