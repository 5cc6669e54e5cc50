"""Readings of a job's report as the browser writes them."""

from __future__ import annotations

from typing import Any


def true_angle(
    value: dict[str, Any], centre: dict[str, str], shown: dict[str, Any] | None = None, within: str = "", **more: Any
) -> dict[str, Any]:
    """An angle read cranking with the timing light, reckoned by what the pointer showed at true top dead centre."""
    return {
        **value,
        "state": "cranking",
        **more,
        "reads": "true-angle",
        **({"shown": shown} if shown else {}),
        "dead_centre": centre,
        **({"dead_centre_uncertainty": {"deg": within}} if within else {}),
        "instrument": "timing-light",
    }


def as_shown(value: dict[str, Any], **more: Any) -> dict[str, Any]:
    """An angle read cranking with the timing light, by a pointer that nobody checked."""
    return {**value, "state": "cranking", **more, "reads": "as-shown", "instrument": "timing-light"}
