def main():
    k = 2
    def f(x):
        return x + k
    t = 0
    for i in range(1000000):
        t = f(t)
    k = 3
