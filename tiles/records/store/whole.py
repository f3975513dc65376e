"""A write that is refused leaves nothing, also where the caller goes on in the same transaction."""

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from sqlalchemy.orm import Session

Given = TypeVar("Given")


def wholly(write: Callable[..., Given]) -> Callable[..., Given]:
    """Have a function of the store write all of it, or nothing where it raises."""

    @wraps(write)
    def all_or_nothing(session: Session, *rest, **named) -> Given:
        with session.begin_nested():
            return write(session, *rest, **named)

    return all_or_nothing
