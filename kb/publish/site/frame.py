"""The frame of every page: head, content security policy, style."""

from __future__ import annotations

import base64
import hashlib
import html
import re
from collections.abc import Sequence

from kb.publish.site.icon import ICON, TOUCH_ICON

_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' {styles}; img-src 'self' data:; connect-src 'self'; "
    "manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'"
)


_NEEDLESS = re.compile(r'("[^"]*")|\s*([{};,>/])\s*|(?<=[a-z])(:) +|(?<![\d.])0(?=\.\d)')


def policy(styles: Sequence[str]) -> str:
    """The content security policy of a page with these inline styles: no inline script, nothing from outside."""
    sums = (base64.b64encode(hashlib.sha256(style.encode()).digest()).decode() for style in styles)
    return " ".join(_POLICY.format(styles=" ".join(f"'sha256-{one}'" for one in sums)).split())


def minified(css: str) -> str:
    """A style sheet without comments, needless spaces and zeros before a point; quoted text is left alone."""
    css = " ".join(re.sub(r"/\*.*?\*/", "", css, flags=re.S).split())
    return _NEEDLESS.sub(lambda found: "".join(found.groups("")), css).replace(";}", "}")


class Frame:
    """Head and foot of a page; ``css`` stands inline with its hash in the policy."""

    def __init__(self, css: str) -> None:
        self._style = minified(css)
        self._policy = policy([self._style])

    def page(
        self,
        title: str,
        body: str,
        root: str,
        scripts: Sequence[str] = (),
        sheets: Sequence[str] = (),
        parts: Sequence[str] = (),
    ) -> str:
        """A whole page; ``root`` leads to the site's root; ``scripts``, ``sheets`` and ``parts``, which the scripts
        import at once and which are asked for together with them, are named below assets/."""
        linked = "".join(f'<link rel="stylesheet" href="{root}assets/{one}">' for one in sheets)
        linked += "".join(f'<link rel="modulepreload" href="{root}assets/{one}">' for one in parts)
        started = "".join(f'<script type="module" src="{root}assets/{one}"></script>' for one in scripts)
        return (
            f'<!DOCTYPE html>\n<html lang="en" data-root="{root}">\n<head>\n<meta charset="utf-8">\n'
            f'<meta http-equiv="Content-Security-Policy" content="{self._policy}">\n'
            '<meta name="viewport" content="width=device-width,initial-scale=1">\n'
            f"<title>{html.escape(title)}</title>\n"
            f'<link rel="icon" type="image/svg+xml" href="{root}{ICON}">\n'
            f'<link rel="apple-touch-icon" href="{root}{TOUCH_ICON}">\n'
            f'<link rel="manifest" href="{root}manifest.webmanifest">\n'
            f"<style>{self._style}</style>{linked}\n</head>\n<body>\n{body}\n{started}</body>\n</html>\n"
        )
