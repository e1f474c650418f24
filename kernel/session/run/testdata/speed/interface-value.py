class Square:
    def __init__(self, side):
        self.side = side

    def area(self):
        return self.side * self.side

def main():
    s = Square(2.0)
    t = 0.0
    for i in range(1000000):
        t += s.area()
