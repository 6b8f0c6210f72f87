using System.Diagnostics;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Planning;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Office.Orders;

namespace ShopFloor.Benchmarks;

/// <summary>The orders overview over a database of many orders: the time of a part on the server, search, filter and sort by turns.</summary>
internal static class OrdersCommand
{
    private const int PiecesEach = 3;

    /// <summary>Rows that a tall screen reads at once.</summary>
    private const int Sight = 50;
    private static readonly string[] First = ["Ida", "Bo", "Runa", "Emil", "Clara", "Viktor", "Lotte", "Samir", "Nora", "Aldo"];
    private static readonly string[] Last = ["Sandberg", "Haldorf", "Marsh", "Field", "Quist", "Boone", "Amsel", "Brandt", "Odeh", "Ferri"];

    public static int Run(Arguments args)
    {
        var (orders, runs) = ((int)args.Number("orders", 50_000), (int)args.Number("runs", 20));
        var folder = Directory.CreateTempSubdirectory("shopfloor-orders-").FullName;
        try
        {
            return MeasureAsync(folder, orders, runs).GetAwaiter().GetResult();
        }
        finally
        {
            Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task<int> MeasureAsync(string folder, int orders, int runs)
    {
        var contexts = new Contexts(folder);
        var now = TimeProvider.System.GetUtcNow();
        await using (var context = contexts.CreateDbContext())
            await GuardedStart.RunAsync(context, folder, now, CancellationToken.None);
        var watch = Stopwatch.StartNew();
        await FillAsync(contexts, orders, now);
        Console.WriteLine(
            string.Create(
                CultureInfo.InvariantCulture,
                $"{orders} orders of {PiecesEach} pieces written in {watch.Elapsed.TotalSeconds:F0} s"
            )
        );
        var view = new OrderListView(contexts, TimeProvider.System, new PlanShelf(contexts));
        var code = await CodeAsync(contexts, orders / 2);
        var last = orders - Sight;
        (string Name, string? Search, OrderFilter Filter, OrderSort Sort, int From)[] asked =
        [
            .. Enum.GetValues<OrderFilter>()
                .SelectMany(f => Enum.GetValues<OrderSort>().Select(s => ($"{f}, by {s}", (string?)null, f, s, 0))),
            ("All, by Name, at the end", null, OrderFilter.All, OrderSort.Name, last),
            ("name 'sandb'", "sandb", OrderFilter.All, OrderSort.Newest, 0),
            ("name 'sandb', open", "sandb", OrderFilter.Open, OrderSort.Promise, 0),
            ("name nobody has", "zzzz", OrderFilter.All, OrderSort.Name, 0),
            ("order number", (orders / 3).ToString(CultureInfo.InvariantCulture), OrderFilter.All, OrderSort.Newest, 0),
            ("piece code", code, OrderFilter.All, OrderSort.Newest, 0),
        ];
        Console.WriteLine($"{"asked", -28} {"found", 7} {"median ms", 10} {"worst ms", 9}");
        var worst = 0.0;
        foreach (var (name, search, filter, sort, from) in asked)
        {
            var times = new List<double>();
            var found = await view.LoadAsync(search, filter, sort, new OrderSpan(from, Sight));
            for (var i = 0; i < runs; i++)
            {
                watch.Restart();
                found = await view.LoadAsync(search, filter, sort, new OrderSpan(from, Sight));
                times.Add(watch.Elapsed.TotalMilliseconds);
            }
            times.Sort();
            worst = Math.Max(worst, times[^1]);
            Console.WriteLine(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{name, -28} {found.Count, 7} {times[times.Count / 2], 10:F1} {times[^1], 9:F1}"
                )
            );
        }
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"slowest of all {worst:F0} ms, wanted below 300 ms"));
        return worst < 300 ? 0 : 1;
    }

    private static async Task<string> CodeAsync(Contexts contexts, int skip)
    {
        await using var context = contexts.CreateDbContext();
        return await context.Pieces.OrderBy(p => p.Code).Skip(skip).Select(p => p.Code).FirstAsync();
    }

    private static async Task FillAsync(Contexts contexts, int orders, DateTimeOffset now)
    {
        var random = new SeededRandom(1);
        for (var from = 0; from < orders; from += 2_000)
        {
            await using var context = contexts.CreateDbContext();
            context.ChangeTracker.AutoDetectChangesEnabled = false;
            for (var n = from + 1; n <= Math.Min(orders, from + 2_000); n++)
                Add(context, n, orders, now, random);
            await context.SaveChangesAsync();
        }
    }

    // The last hundredth is open, the rest is with its customers.
    private static void Add(ShopContext context, int number, int orders, DateTimeOffset now, SeededRandom random)
    {
        var contact = new Contact($"{First[random.Next(10)]} {Last[random.Next(10)]} {number % 977}", "somebody@shop.example", "");
        var booked = now.AddMinutes(-(orders - number) * 20.0);
        var customer = Customer.Create(new CustomerId(Guid.CreateVersion7()), contact, booked, null).Value;
        var order = new Order(new OrderId(Guid.CreateVersion7()), number, customer.Id, contact, "EUR", booked, "benchmark");
        order.Promise(booked.AddDays(3));
        var line = new OrderLine(new OrderLineId(Guid.CreateVersion7()), 1, PiecesEach, new PieceDescription(), Finish.WhiteGround);
        order.Add(line);
        context.AddRange(customer, order);
        for (var i = 1; i <= PiecesEach; i++)
        {
            var piece = new Piece(new PieceId(Guid.CreateVersion7()));
            var code = ShortCode.FromNumber((number * (long)PiecesEach) + i);
            piece.Apply(new PieceBooked(booked, code, order.Id, line.Id, i, false, null, []));
            if (number < orders - (orders / 100))
                piece.Apply(new PieceHandedOver(booked.AddDays(2)));
            context.Add(piece);
        }
    }

    private sealed class Contexts(string folder) : IDbContextFactory<ShopContext>
    {
        public ShopContext CreateDbContext()
        {
            var options = new DbContextOptionsBuilder<ShopContext>();
            ShopDatabase.Configure(options, ShopDatabase.FileIn(folder));
            return new ShopContext(options.Options);
        }
    }
}
