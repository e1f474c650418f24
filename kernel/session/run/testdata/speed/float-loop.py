def main():
    global sum
    s = 0.0
    for i in range(10000000):
        s += i * 0.5
    sum = s
