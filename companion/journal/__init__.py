"""The journal on disk: SQLite store, event codec, bundle, backup."""
