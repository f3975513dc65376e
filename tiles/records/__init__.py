"""What is stored: vocabulary, record shapes, tables, and every write."""
