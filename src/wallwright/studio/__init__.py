"""The web page's server: API, store, accounts and background studies; no trade rule lives here."""
