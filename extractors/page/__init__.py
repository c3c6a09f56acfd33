"""A page of HTML to its headline, entries, visible text and pictures: `apart.page_of(name, html)`."""
