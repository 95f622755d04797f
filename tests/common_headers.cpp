// The program whose precompiled headers the tests share. It holds no test.
