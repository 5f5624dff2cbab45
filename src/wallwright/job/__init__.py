"""The job document (survey, brief, design), the edits that change it, and how it is read and kept."""
