"""A QR symbol of any text as SVG, for a screen; tags have their own fixed form in `fieldapp.labels`."""

from __future__ import annotations

from html import escape

import qrcode

from fieldapp.labels import QUIET, dark_path


def qr_svg(text: str, label: str) -> str:
    """Return `text` as a QR symbol at error correction level M: one filled path on white, quiet zone included.

    Parameters
    ----------
    text : str
        What the symbol says.
    label : str
        What a screen reader says.

    Returns
    -------
    str
        An svg element without a size of its own.

    Source: ISO/IEC 18004 (quiet zone of 4 modules).

    >>> qr_svg("A", "QR code").count("<path")
    1
    """
    code = qrcode.QRCode(None, qrcode.ERROR_CORRECT_M, border=0)
    code.add_data(text)
    code.make(fit=True)
    rows = ["".join("1" if dark else "0" for dark in row) for row in code.modules]
    side = len(rows) + 2 * QUIET
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(label)}" viewBox="0 0 {side} {side}"'
        f' shape-rendering="crispEdges">'
        f'<path fill="#000" d="{dark_path(rows)}"/></svg>'
    )
