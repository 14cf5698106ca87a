"""The interchange form of a mounting case, and the answer when it is judged: read, published and written
from one description. `manage.py judge`, the API and whoever packs a record use nothing else. Imports point
down: to the steps and the engineering."""
