"""One thread of linear algebra for each process: on small matrices more only wait."""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
