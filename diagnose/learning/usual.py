"""How often each defect turns up on test tiles: where the intercept starts.

Rough shares of inspected areas (estimates, no source gives them). A studio's own tiles soon
outweigh them; they are never shown as a fact.
"""

PREVALENCE = {
    "crazing": 0.15,
    "shivering": 0.03,
    "crawling": 0.10,
    "pinholes": 0.13,
    "blisters": 0.06,
    "running": 0.07,
    "underfired": 0.08,
    "bloating": 0.02,
    "dunting": 0.02,
    "unwanted matt": 0.07,
    "specks": 0.08,
    "colour shift": 0.08,
    "cloudiness": 0.10,
    "metal marking": 0.04,
    "other": 0.03,
}
