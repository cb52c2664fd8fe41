from decor.models.business import Business
from decor.models.client import Client
from decor.models.job import Job, JobPhoto, StageMove
from decor.models.site import Site

__all__ = ["Business", "Client", "Job", "JobPhoto", "Site", "StageMove"]
