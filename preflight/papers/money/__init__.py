"""Entity as claimed, certified and paid, and the fees that follow from it."""
