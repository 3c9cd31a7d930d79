"""Evaluate on other machines: the workers of a Dask scheduler, as lanes.

Scheduler and workers run code that they are sent, and send objects that are run here: use only your
own, in a network that you trust. Loaded only where a cluster is asked for.
"""

import asyncio
from concurrent.futures import CancelledError, Executor

from trueup.lineage.evaluation.cache.program import program
from trueup.lineage.evaluation.errors import NoCluster

_PATIENCE = "10s"
"""So long a scheduler may take to answer."""


class Cluster:
    """The workers of the scheduler at an address, as `tcp://192.0.2.7:8786`. Close it after use.

    Raises NoCluster where it does not answer, has no workers, or these run another trueup.
    """

    start_seconds = 0.0

    def __init__(self, address: str) -> None:
        try:
            from distributed import Client, KilledWorker  # noqa: PLC0415
            from distributed.comm import CommClosedError  # noqa: PLC0415
        except ImportError:
            hint = "install it with: pip install 'trueup[cluster]'"
            raise NoCluster(address, "Dask is not installed", hint) from None
        self.lost: tuple[type[BaseException], ...] = (
            *(KilledWorker, CommClosedError, CancelledError, asyncio.CancelledError),
        )
        try:
            self._client = Client(address, timeout=_PATIENCE, set_as_default=False)
        except (OSError, ValueError, TimeoutError):
            hint = "start one with: dask scheduler, and give the address it prints"
            raise NoCluster(address, "no scheduler answers there", hint) from None
        try:
            self.workers = self._counted(address)
        except BaseException:
            self.close()
            raise

    def _counted(self, address: str) -> int:
        threads = int(sum(self._client.nthreads().values()))
        if not threads:
            raise NoCluster(address, "it has no workers", "start some with: dask worker ADDRESS")
        try:
            theirs = set(self._client.run(program).values())
        except (ImportError, AttributeError):
            theirs = set()
        # Only the same program finds the same, to the last bit.
        if theirs != {program()}:
            hint = "install the same version, on the same Python and the same libraries, there"
            raise NoCluster(address, "its workers run another version of trueup", hint)
        return threads

    def executor(self) -> Executor:
        """Return the executor of the cluster."""
        found: Executor = self._client.get_executor(pure=False)
        return found

    def close(self) -> None:
        """Leave the cluster; what its workers have not begun is given up."""
        self._client.close()

    def give_up(self) -> None:
        """Leave the cluster, and work alone from here on."""
        self.close()
        self.workers = 1
