"""The same actions for other programs: JSON over HTTP, described by OpenAPI at /api/openapi.json."""
