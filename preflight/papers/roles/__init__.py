"""What a page shows that it is, and which pages make up which paper."""
