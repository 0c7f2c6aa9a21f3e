"""What a cell calls, the lesson files, and the program that opens them."""
