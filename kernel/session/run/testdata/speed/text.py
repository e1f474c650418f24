from io import StringIO

def main():
    b = StringIO()
    for i in range(200000):
        b.write(str(i))
        b.write(", ")
