"""Learning from a studio's own tiles: one module a step, put together by ``diagnose.learner``."""
