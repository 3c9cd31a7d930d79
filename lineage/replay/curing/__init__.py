"""What can be done about a conflict, with amounts, tried out before it is offered."""
