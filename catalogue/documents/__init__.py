"""Papers for people: receipts, reports, labels. One model of a document, written as HTML and as PDF."""
