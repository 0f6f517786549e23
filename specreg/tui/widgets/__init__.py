"""What screens are made of: the frame's head, the title block, the key line, the register table, the paper."""
