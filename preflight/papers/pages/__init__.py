"""What runs along with the pages: headers, page and sheet numbers, docket numbers; and the body without them."""
