"""PDFs printed blank, for tests that want the files and do not look at them."""

from __future__ import annotations

from contextlib import AbstractContextManager
from typing import Any
from unittest import mock

from notchbook.pressing.pdf import Printed, Printer

_print = Printer._print


def printed_blank() -> AbstractContextManager[object]:
    """Whatever is printed meanwhile is blank: setting pages is most of a press."""

    def blank(self: Printer, html: str, *given: Any, **options: Any) -> Printed:
        return _print(self, "<title>Blank</title>", *given, **options)

    return mock.patch.object(Printer, "_print", blank)
