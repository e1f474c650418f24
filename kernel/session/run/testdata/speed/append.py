def main():
    xs = []
    for i in range(1000000):
        xs.append(float(i))
