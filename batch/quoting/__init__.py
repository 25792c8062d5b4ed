"""What goes to the customer: positions, scope, assumptions, questions. Made anew from an allow list of fields, never from the results."""
