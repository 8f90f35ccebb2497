"""wall.html: the figures of a job on a phone at the wall, as one page that needs nothing but itself."""

from cutmarks.writers.wall_page.page import WALL_PAGE, write_wall_page

__all__ = ["WALL_PAGE", "write_wall_page"]
