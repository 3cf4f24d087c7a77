"""What the program says, as data: a message by its id with typed values, said when it is read."""
