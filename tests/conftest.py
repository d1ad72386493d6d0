"""What holds for all tests: properties are judged by what they find, never by how busy the machine is."""

from __future__ import annotations

from hypothesis import HealthCheck, settings

settings.register_profile("fellside", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("fellside")
