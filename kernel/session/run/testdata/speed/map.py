def main():
    m = {}
    for i in range(1000000):
        m[i % 1000] = m.get(i % 1000, 0) + i
