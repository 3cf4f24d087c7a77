"""Building models read into houses: IFC (ISO 16739) and DXF, in a process of their own."""
