using System.Runtime.CompilerServices;

[assembly: InternalsVisibleTo("ShopFloor.Planning.Tests")]
[assembly: InternalsVisibleTo("ShopFloor.Benchmarks")]
