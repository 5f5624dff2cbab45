"""The one loop of the verifier that is too slow uncompiled: what strips of many heights make. Loaded only where it is needed."""

# pyright: reportUntypedFunctionDecorator=false, reportUnknownMemberType=false, reportUnknownVariableType=false
# pyright: reportMissingTypeStubs=false, reportUnknownParameterType=false, reportMissingParameterType=false
# pyright: reportUnknownArgumentType=false, reportMissingTypeArgument=false

from __future__ import annotations

import numpy as np
from numba import njit


@njit(cache=True, nogil=True)
def strips(columns, wides, width):
    """The most that a strip of each height makes. Row by height, column by width: what one stack makes; widths ascend."""
    most = np.empty(len(columns))
    best = np.empty(width + 1)
    for number in range(len(columns)):
        best[:] = 0.0
        for i in range(len(wides)):
            wide, worth = wides[i], columns[number, i]
            if worth <= best[wide]:
                continue  # narrower stacks make as much
            for start in range(wide, width + 1, wide):
                end = min(start + wide, width + 1)
                before, after = best[start - wide : end - wide], best[start:end]
                for x in range(end - start):
                    with_one = before[x] + worth
                    after[x] = with_one if with_one > after[x] else after[x]
        most[number] = best[width]
    return most
