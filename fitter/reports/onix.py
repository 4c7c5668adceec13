"""The extents as a fragment of ONIX 3.0, reference names: List 23 types, List 24 unit pages."""

from __future__ import annotations

import xml.etree.ElementTree as ET

from fitter.trade.facts.extents import MEANINGS, Extents
from fitter.trade.facts.facts import CAUTION

NAMESPACE = "http://ns.editeur.org/onix/3.0/reference"
PAGES = "03"


def onix_fragment(extents: Extents) -> str:
    """`Extent` composites inside a `DescriptiveDetail`; a count of 0 or not known is left out."""
    root = ET.Element("DescriptiveDetail", xmlns=NAMESPACE)
    root.append(ET.Comment(f" {CAUTION} "))
    for code, pages in extents.items():
        if pages:
            meaning = MEANINGS[code].replace("--", "option ")  # two hyphens end a comment
            root.append(ET.Comment(f" {meaning} "))
            extent = ET.SubElement(root, "Extent")
            ET.SubElement(extent, "ExtentType").text = code
            ET.SubElement(extent, "ExtentValue").text = str(pages)
            ET.SubElement(extent, "ExtentUnit").text = PAGES
    ET.indent(root)
    return ET.tostring(root, encoding="unicode")
