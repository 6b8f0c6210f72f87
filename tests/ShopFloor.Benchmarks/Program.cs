Console.WriteLine("ShopFloor benchmarks");
