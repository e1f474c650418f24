def mix(a, b, share):
    return a * share + b * (1 - share), a - b

def main():
    x, y = 1.0, 2.0
    for i in range(1000000):
        x, y = mix(x, y, 0.25)
