//! Forms, trying and drafts over a real home and folder.
