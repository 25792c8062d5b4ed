"""What a position of a quotation may be. Apart from the positions themselves, since the command line shows it before any work is done."""

WHOLE = "project"
BY = ("tank", "type", "feeder", WHOLE)
