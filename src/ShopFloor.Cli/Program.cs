using System.Runtime.CompilerServices;
using ShopFloor.Cli;

[assembly: InternalsVisibleTo("ShopFloor.Planning.Tests")]

return Commands.Run(args, Console.Out, Console.Error);
