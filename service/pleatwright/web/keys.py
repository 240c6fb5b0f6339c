"""Keys of the workroom and of customers: given out once, kept only as digests, and compared in constant time."""

import hashlib
import hmac
import re
import secrets
from collections.abc import Sequence
from typing import Final

DIGEST: Final = re.compile("[0-9a-f]{64}")
LONGEST: Final = 200
"""Characters in the longest key that is looked at."""
WORKROOM: Final = "workroom"
CUSTOMER: Final = "customer"
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


class Keys:
    """The keys that open the service, to the workroom and to its customers."""

    def __init__(self, workroom: Sequence[str] = (), customers: Sequence[tuple[str, str]] = ()) -> None:
        self._holders = [(digest, WORKROOM) for digest in workroom]
        self._holders += [(digest, f"{CUSTOMER} {name}") for digest, name in customers]
        self.needed = bool(customers)
        """Whether whatever works something out needs a key."""

    def holder(self, authorization: str | None) -> str | None:
        """Return whose key an Authorization header bears [RFC 6750, section 2.1]: one name for all of their keys.

        >>> keys = Keys([digest_of("abc")], [(digest_of("xyz"), "thornfield")])
        >>> keys.holder("Bearer abc"), keys.holder("bearer xyz"), keys.holder("Bearer abd"), keys.holder(None)
        ('workroom', 'customer thornfield', None, None)
        """
        scheme, _, key = (authorization or "").partition(" ")
        if scheme.lower() != "bearer" or not 0 < len(key.strip()) <= LONGEST:
            return None
        given = digest_of(key.strip())
        # Every digest is compared, so that the time does not tell which one is near.
        found = [holder for digest, holder in self._holders if hmac.compare_digest(given, digest)]
        return found[0] if found else None
