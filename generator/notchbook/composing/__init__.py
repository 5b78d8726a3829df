"""Draft to drawings (display lists in millimetres), pages and their markup. Pure."""
