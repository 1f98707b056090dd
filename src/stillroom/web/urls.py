"""Every address of the pages: one include for each app."""

from __future__ import annotations

from django.urls import include, path

from stillroom.web.api.interface import interface

urlpatterns = [
    path("", include("stillroom.web.day.urls")),
    path("arrivals/", include("stillroom.web.arrivals.urls")),
    path("table/", include("stillroom.web.table.urls")),
    path("larder/", include("stillroom.web.larder.urls")),
    path("kitchen/", include("stillroom.web.kitchen.urls")),
    path("folder/", include("stillroom.web.exchange.urls")),
    path("door/", include("stillroom.web.door.urls")),
    path("bench/", include("stillroom.web.bench.urls")),
    path("sources/", include("stillroom.web.sources.urls")),
    path("api/", interface.urls),
    path("frame/", include("stillroom.web.frame.urls")),
]

handler400 = "stillroom.web.frame.failures.bad_request"
handler403 = "stillroom.web.frame.failures.not_allowed"
handler404 = "stillroom.web.frame.failures.not_found"
handler500 = "stillroom.web.frame.failures.broken"
