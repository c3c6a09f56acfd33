"""What each part probably is: evidence, likelihoods, the exact posterior, the account of its weights.

`assessment.beliefs(claims, decodings, packs)` is the way in; numpy is imported only where a family has sourced
priors and production. Sums over so few cells are slower on several threads, so one is asked for before numpy starts.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
