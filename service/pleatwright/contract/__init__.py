"""What a client may ask and what it is told: requests, replies, problems, and the OpenAPI document built from them."""
