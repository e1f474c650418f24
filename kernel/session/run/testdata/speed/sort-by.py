from functools import cmp_to_key

def main():
    xs = [(i * 7919) % 100003 for i in range(100000)]
    xs.sort(key=cmp_to_key(lambda a, b: a - b))
