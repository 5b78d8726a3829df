"""The world out: PDFs, imposition, pictures, the impression, and the work spread over cores."""
