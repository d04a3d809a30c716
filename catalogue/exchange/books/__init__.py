"""Old job books: a mapping of columns, and rows out of CSV and workbooks that nobody trusts."""
