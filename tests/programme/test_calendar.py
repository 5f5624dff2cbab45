"""Working days against numpy's business-day arithmetic."""

from __future__ import annotations

from datetime import date

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from wallwright.programme.calendar import working_day


@given(st.dates(date(2020, 1, 1), date(2035, 1, 1)), st.integers(0, 400))
def test_as_numpy_counts_them(start: date, number: int) -> None:
    theirs = np.busday_offset(np.datetime64(start), number, roll="forward").astype(date)
    assert working_day(start, number) == theirs
