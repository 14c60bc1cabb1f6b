"""Every benchmark in turn, as one table: python tests/speed

Ratios from one run on one machine; leave the machine alone meanwhile. About a quarter of an hour.
"""

import sys
from importlib import import_module

NAMES = ("bench_corner", "bench_import", "bench_cells", "bench_redraw", "bench_interact", "bench_browser", "bench_memory",
         "bench_class")

for name in NAMES:
    print(f"\n--- {name}", flush=True)
    import_module(name).main()
    sys.stdout.flush()
