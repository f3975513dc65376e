"""Linear algebra on one thread.

The learner solves hundreds of small systems. Spread over the cores, each of them waits for the
slowest core: on a machine that is busy with other work that made learning ten times slower.
"""

from collections.abc import Callable
from functools import cache, wraps
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from threadpoolctl import ThreadpoolController

Function = TypeVar("Function", bound=Callable)


def on_one_thread(function: Function) -> Function:
    """Have the linear algebra of numpy and scipy keep to one thread while a function runs."""

    @wraps(function)
    def run(*args, **kwargs):
        with _libraries().limit(limits=1, user_api="blas"):
            return function(*args, **kwargs)

    return run


@cache
def _libraries() -> "ThreadpoolController":
    import numpy  # noqa: F401
    import scipy.linalg  # noqa: F401
    from threadpoolctl import ThreadpoolController

    # Finds only what is loaded: hence the two imports above.
    return ThreadpoolController()
