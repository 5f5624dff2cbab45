"""Change and site: what differs between two jobs, what a change touches before it is accepted, and what the site says back."""
