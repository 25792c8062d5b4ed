"""Work beside the open spreadsheet and on folders of bids: many workbooks sized over processes, one sized again whenever it is saved."""
