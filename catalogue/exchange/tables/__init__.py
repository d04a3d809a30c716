"""Works as tables: columns are rows of vocab/tables.toml, written as CSV or as one workbook."""
