"""The security headers of the page, in one place: the server sends them, the build repeats the policy in the page."""

POLICY = {
    "default-src": "'none'",
    "script-src": "'self' 'wasm-unsafe-eval'",
    "worker-src": "'self'",
    "connect-src": "'self'",
    "style-src": "'self'",
    "img-src": "'self' data: blob:",
    "font-src": "'self'",
    "manifest-src": "'self'",
    "base-uri": "'none'",
    "form-action": "'none'",
    "frame-ancestors": "'none'",
    "require-trusted-types-for": "'script'",
    "trusted-types": "app",
}

# A browser ignores this one in a meta element, and complains.
HEADER_ONLY = {"frame-ancestors"}


def policy(*, in_page: bool = False) -> str:
    """The Content-Security-Policy as text, whole or as far as a meta element may carry it."""
    return "; ".join(f"{name} {value}" for name, value in POLICY.items() if not (in_page and name in HEADER_ONLY))


HEADERS = {
    "Content-Security-Policy": policy(),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), geolocation=(), microphone=(), payment=(), usb=()",
    "Cache-Control": "no-cache",
}
