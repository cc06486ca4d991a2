"""Drawings as SVG: the sock to scale with its colours, charts, plots of the gauge, QR codes. One PNG for previews."""
