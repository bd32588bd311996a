# Filled in with the install rules.
