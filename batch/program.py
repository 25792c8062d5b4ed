"""What this program is called and which version of it this is, as it stands in everything that it writes."""

VERSION = "0.3.0"
PROGRAM = f"heaterbatch {VERSION}"
