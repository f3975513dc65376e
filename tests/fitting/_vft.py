"""Robust fit of log10 viscosity = A + B / (T - T0), B and T0 linear in the same terms. [1000 K]."""

from dataclasses import dataclass

import numpy as np

from tiles.chemistry.melt import HIGHEST_T0_K, LOWEST_B_K


@dataclass(frozen=True)
class Problem:
    """Terms and temperatures of the measured points, scaled, with Huber's bend and a ridge."""

    terms: np.ndarray
    kelvin: np.ndarray
    measured: np.ndarray
    weight: np.ndarray
    bend: float
    ridge: float

    def curve(self, guess: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """Viscosity, B and T - T0 of every point."""
        b, t0 = np.split(guess[1:], 2)
        b = np.maximum(self.terms @ b, LOWEST_B_K / 1000)
        apart = self.kelvin - np.minimum(self.terms @ t0, HIGHEST_T0_K / 1000)
        return guess[0] + b / apart, b, apart

    def loss(self, guess: np.ndarray) -> float:
        """Huber's loss and the ridge."""
        error = np.abs(self.measured - self.curve(guess)[0])
        huber = np.where(error < self.bend, error**2 / 2, self.bend * (error - self.bend / 2))
        return float(self.weight @ huber + self.ridge / 2 * (guess[1:] ** 2).sum())

    def start(self) -> np.ndarray:
        """T0 of 520 K for every glass, then B by least squares."""
        ridge = np.eye(self.terms.shape[1]) * 1e-2
        scaled = self.terms / (self.kelvin - 0.52)[:, None]
        b = np.linalg.solve(scaled.T @ scaled + ridge, scaled.T @ (self.measured + 3.0))
        same = self.terms.sum(axis=0) * 0.52
        return np.concatenate([[-3.0], b, np.linalg.solve(self.terms.T @ self.terms + ridge, same)])

    def normal_equations(self, guess: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Matrix and right side of one Gauss-Newton step."""
        value, b, apart = self.curve(guess)
        error = self.measured - value
        robust = self.weight * np.minimum(1.0, self.bend / np.maximum(np.abs(error), 1e-9))
        slope = np.column_stack(
            [np.ones(len(b)), self.terms / apart[:, None], self.terms * (b / apart**2)[:, None]]
        )
        ridge = np.concatenate([[0.0], np.full(len(guess) - 1, self.ridge)])
        normal = slope.T @ (slope * robust[:, None]) + np.diag(ridge)
        return normal, slope.T @ (robust * error) - ridge * guess


def solve_vft(terms, kelvin, measured, weight, bend: float, ridge: float):
    """A, the factors of B and the factors of T0, by damped Gauss-Newton steps."""
    scale = np.sqrt((terms**2).mean(axis=0)) + 1e-12
    problem = Problem(terms / scale, kelvin, measured, weight / weight.sum(), bend, ridge)
    guess, damping = problem.start(), 1e-2
    now = problem.loss(guess)
    for _ in range(60):
        normal, downhill = problem.normal_equations(guess)
        tried = guess + np.linalg.solve(normal + damping * np.diag(np.diag(normal)), downhill)
        then = problem.loss(tried)
        if then >= now:
            damping *= 6
            continue
        gained, guess, now, damping = now - then, tried, then, max(damping / 5, 1e-9)
        if gained < 1e-9:
            break
    b, t0 = np.split(guess[1:], 2)
    return guess[0], b / scale, t0 / scale
