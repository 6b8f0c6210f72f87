Console.WriteLine("ShopFloor");
