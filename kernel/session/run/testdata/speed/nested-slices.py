def main():
    n = 100
    a = [[0.0] * n for _ in range(n)]
    for k in range(100):
        for i in range(n):
            for j in range(n):
                a[i][j] += i * j / 3
