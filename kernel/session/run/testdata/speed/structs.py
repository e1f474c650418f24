class Point:
    __slots__ = ("x", "y")

    def __init__(self):
        self.x = self.y = 0.0

def main():
    ps = [Point() for _ in range(1000)]
    for j in range(1000):
        for i in range(len(ps)):
            ps[i].x += ps[i].y + 1
