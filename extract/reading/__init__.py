"""PDF bytes -> pages of characters, rules and pictures, in displayed coordinates: see pages.open_sheet.

Empty, so that the window can take geometry.py without loading a PDF reader before its first paint.
"""
