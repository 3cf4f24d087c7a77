"""Where photographs are kept: the folder of this machine, or a bucket that speaks S3."""

from pathlib import Path
from typing import Any

from config.environment import Environment

MEMORY = 30_000_000  # bytes of a file that is read, before it goes to a folder for a while


def storages(environment: Environment, folder: Path) -> dict[str, Any]:
    """Django's storages. What is kept is served by views alone, which ask who wants to see it."""
    static = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
    if not environment.studbay_s3_bucket:
        local = {"BACKEND": "config.atomic_files.WholeFiles"}
        return {"default": local | {"OPTIONS": {"location": folder}}, "staticfiles": static}
    from botocore.config import Config  # it takes long to load

    endpoint = environment.studbay_s3_endpoint or None
    bucket = {
        "bucket_name": environment.studbay_s3_bucket,
        "endpoint_url": endpoint,
        "region_name": environment.studbay_s3_region or None,
        "access_key": environment.studbay_s3_access_key or None,
        "secret_key": environment.studbay_s3_secret_key or None,
        "default_acl": None,  # as the bucket has it, which nobody else reads
        "file_overwrite": False,
        "max_memory_size": MEMORY,
        "client_config": Config(
            signature_version="s3v4",
            s3={"addressing_style": "path" if endpoint else "auto"},
            # Somebody waits for the page; what was not kept is told, and sent again.
            connect_timeout=3,
            read_timeout=20,
            retries={"total_max_attempts": 2, "mode": "standard"},
            # Stores that speak S3 do not all know the newer checksums.
            request_checksum_calculation="when_required",
            response_checksum_validation="when_required",
        ),
    }
    return {
        "default": {"BACKEND": "storages.backends.s3.S3Storage", "OPTIONS": bucket},
        "staticfiles": static,
    }
