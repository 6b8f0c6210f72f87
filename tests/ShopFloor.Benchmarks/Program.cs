using ShopFloor.Benchmarks.Circuits;
using ShopFloor.Benchmarks.Days;

namespace ShopFloor.Benchmarks;

/// <summary>Leads the first word of the command line to its command.</summary>
internal static class Entrance
{
    private static int Main(string[] args)
    {
        // One line per command; each lives in a file of its own.
        Command[] commands =
        [
            new("layout", "--data PATH [--seconds S] [--class C,C] [--every N] [--turning yes|no|both] [--out DIR]", LayoutCommand.Run),
            new(
                "ovens",
                "--data PATH --weights 1|3 [--seconds S | --steps MILLIONS] [--n N,N] [--only I,I] [--seeds S,S] [--chains C] [--windows W] [--bound thorough] [--prove S] [--workers W] [--out DIR]",
                OvensCommand.Run
            ),
            new("shop", "[--n N,N] [--steps MILLIONS]", ShopCommand.Run),
            new("preview", "[--runs N] [--screen PIXELS]", PreviewCommand.Run),
            new("verify", "--solutions DIR [--layout PATH] [--ovens PATH]", VerifyCommand.Run),
            new("counter", "[--circuits N,N] [--pause SECONDS] [--server ShopFloor.Web.dll]", CounterCommand.Run),
            new("walls", "[--walls N] [--moves N] [--pieces N] [--every SECONDS] [--server ShopFloor.Web.dll]", WallsCommand.Run),
            new("kill", "[--rounds N] [--people N] [--seed S] [--server ShopFloor.Web.dll]", KillCommand.Run),
            new("orders", "[--orders N] [--runs N]", OrdersCommand.Run),
            new("import", "[--rows N] [--moves N] [--every SECONDS]", ImportCommand.Run),
            new("sheets", "[--transfers N] [--seed S] [--pages N]", SheetsCommand.Run),
            new("day first", "[--n N,N] [--runs R] [--seed S]", DayGrowth.First),
            new("day promise", "[--open N] [--questions N] [--rounds R] [--seed S] [--checked N]", DayPromise.Run),
            new("day growth", "[--n N,N] [--runs R] [--seed S]", DayGrowth.Growth),
            new("day fcfs", "[--n N,N] [--days D] [--rounds R] [--seed S]", DayByHand.Run),
            new("day random", "[--n N,N] [--days D] [--rounds R] [--seed S]", DayRandom.Run),
            new(
                "day simulate",
                "[--n PIECES] [--days D] [--spread PERCENT] [--faults PERCENT] [--reserve PERCENT] [--seed S]",
                DaySimulate.Run
            ),
            new("day tiny", "[--n PIECES] [--seeds N] [--rounds R] [--seconds S] [--workers W]", DayTiny.Run),
        ];

        // The commands about whole days have two words.
        var words = args.FirstOrDefault() == "day" ? Math.Min(2, args.Length) : Math.Min(1, args.Length);
        var name = string.Join(' ', args[..words]);
        var command = Array.Find(commands, c => string.Equals(c.Name, name, StringComparison.Ordinal));
        if (command is null)
        {
            Console.Error.WriteLine($"'{name}' is no command. Commands:");
            foreach (var c in commands)
                Console.Error.WriteLine($"  {c.Name} {c.Usage}");
            return 2;
        }
        try
        {
            return command.Run(new Arguments(args[words..]));
        }
        catch (InputFault fault)
        {
            Console.Error.WriteLine(fault.Message);
            return 2;
        }
    }
}
