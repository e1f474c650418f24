class Circle:
    def __init__(self, radius):
        self.radius = radius

    def area(self):
        return self.radius * 3

def main():
    s = Circle(2.0)
    t = 0.0
    for i in range(1000000):
        t += s.area()
