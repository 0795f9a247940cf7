"""Parts of web/build.py."""
