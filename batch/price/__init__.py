"""What a job costs: from the lines of its take-off and the shop's own prices and hours. No file, no heading, no rate of our own."""
