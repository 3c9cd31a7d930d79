"""Linear algebra in one thread: with matrices as small as these, several only get in the way."""

from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec


@contextmanager
def one_thread() -> Iterator[None]:
    """Let linear algebra start no threads meanwhile; without threadpoolctl it takes longer."""
    if find_spec("threadpoolctl") is None:  # an extra that was installed before it was asked for
        yield
        return
    from threadpoolctl import threadpool_limits  # noqa: PLC0415

    with threadpool_limits(limits=1, user_api="blas"):
        yield
