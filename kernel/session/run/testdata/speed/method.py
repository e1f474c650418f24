class Tally:
    def __init__(self):
        self.total = 0.0

    def add(self, x):
        self.total += x

def main():
    t = Tally()
    for i in range(2000000):
        t.add(1.0)
