def main():
    names = ["feed", "concentrate", "middlings", "tailings"]
    m = {}
    for i in range(1000000):
        n = names[i % 4]
        m[n] = m.get(n, 0.0) + 0.5
