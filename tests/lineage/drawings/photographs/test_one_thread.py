"""Measuring a photograph keeps to one core: matrices as small as its are not worth threads."""

from typing import Any

import pytest
from threadpoolctl import threadpool_info, threadpool_limits

from tests.lineage.drawings.photographs.rendering import Camera, jpeg, photograph
from tests.lineage.drawings.photographs.tables import bodice_table
from trueup.lineage.drawings.photographs.frame import solving
from trueup.lineage.drawings.photographs.photograph import photographed


def threads() -> set[int]:
    return {each["num_threads"] for each in threadpool_info() if each["user_api"] == "blas"}


def test_a_photograph_is_measured_in_one_thread_and_others_have_theirs_back(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    seen: set[int] = set()
    usual = solving.least_squares

    def watched(*args: Any, **more: Any) -> Any:
        seen.update(threads())
        return usual(*args, **more)

    monkeypatch.setattr(solving, "least_squares", watched)
    camera = Camera(2400, 1800, high=900, focal=0.72, leans=(3, -2), radial=(0.03, -0.01))
    picture = jpeg(photograph(bodice_table(camera)[0]))
    with threadpool_limits(limits=2, user_api="blas"):
        photographed(picture, "front.jpg")
        assert seen == {1}
        assert threads() == {2}
