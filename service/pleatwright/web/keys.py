"""Keys of the workroom: given out once, kept only as digests, and compared in constant time."""

import hashlib
import hmac
import re
import secrets
from collections.abc import Sequence
from typing import Final

DIGEST: Final = re.compile("[0-9a-f]{64}")
LONGEST: Final = 200
"""Characters in the longest key that is looked at."""
_BYTES: Final = 32


def new_key() -> str:
    """Return a new key: 256 random bits, so that a plain digest of it gives nothing away."""
    return secrets.token_urlsafe(_BYTES)


def digest_of(key: str) -> str:
    """Return the SHA-256 digest of a key in hexadecimal, as it is kept.

    >>> digest_of("abc")[:16]
    'ba7816bf8f01cfea'
    """
    return hashlib.sha256(key.encode("utf-8", "surrogateescape")).hexdigest()


def is_known(authorization: str | None, digests: Sequence[str]) -> bool:
    """Return whether an Authorization header bears one of the keys [RFC 6750, section 2.1].

    >>> is_known("Bearer abc", [digest_of("abc")]), is_known("Bearer abd", [digest_of("abc")]), is_known(None, [])
    (True, False, False)
    """
    scheme, _, key = (authorization or "").partition(" ")
    if scheme.lower() != "bearer" or not 0 < len(key.strip()) <= LONGEST:
        return False
    given = digest_of(key.strip())
    # Every digest is compared, so that the time does not tell which one is near.
    return sum(hmac.compare_digest(given, digest) for digest in digests) > 0
