"""Style sheets written from values: the workshop's faces and the theme's tokens."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from markupsafe import Markup

from notchbook.composing.setting import Setting
from notchbook.gathering.source import Face, Typefaces


def print_css(setting: Setting, page: str) -> Markup:
    """The style sheet of something printed on its own ``page`` (``148mm 210mm``). Faces are fetched
    from ``font:FILE``."""
    return Markup(
        font_css(setting.typefaces, lambda face: f"font:{face.file}")
        + token_css(setting.theme.tokens, dark=False)
        + f"@page{{size:{page}}}\n"
        + setting.theme.styles["print.css"]
    )


def font_css(typefaces: Typefaces, url: Callable[[Face], str]) -> str:
    """An ``@font-face`` for every face, fetched from where ``url`` says, and the custom
    properties ``--text`` and ``--label`` with each role's families, the fallbacks behind."""
    rules = [
        f'@font-face{{font-family:"{face.family}";font-weight:{face.weight};'
        f"font-style:{'italic' if face.italic else 'normal'};font-display:swap;"
        f'src:url("{url(face)}")}}'
        for face in typefaces.faces
    ]
    roles = (("text", typefaces.text, "serif"), ("label", typefaces.label, "sans-serif"))
    lists = "".join(
        f"--{role}:{_families((*own, *typefaces.others))},{generic};"
        for role, own, generic in roles
    )
    return "\n".join([*rules, f":root{{{lists}}}", ""])


def token_css(tokens: Mapping[str, str], *, dark: bool) -> str:
    """The theme's tokens as custom properties. With ``dark``, the tokens named ``dark.…`` replace
    those of the same name on screens whose reader asks for a dark page."""
    light = _properties({key: value for key, value in tokens.items() if "." not in key})
    night = {key.removeprefix("dark."): v for key, v in tokens.items() if key.startswith("dark.")}
    if not dark or not night:
        return f":root{{{light}}}\n"
    return (
        f":root{{color-scheme:light dark;{light}}}\n"
        f"@media screen and (prefers-color-scheme:dark){{:root{{{_properties(night)}}}}}\n"
    )


def _properties(tokens: Mapping[str, str]) -> str:
    return "".join(f"--{name}:{value};" for name, value in tokens.items())


def _families(faces: tuple[Face, ...]) -> str:
    return ",".join(f'"{family}"' for family in dict.fromkeys(face.family for face in faces))
