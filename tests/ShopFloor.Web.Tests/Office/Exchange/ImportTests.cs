using System.Diagnostics;
using System.IO.Compression;
using System.Text;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Api;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Exchange;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Tests.Office.Invoices;
using Xunit.Abstractions;

namespace ShopFloor.Web.Tests.Office.Exchange;

/// <summary>Customers, orders and prices from files on the real database.</summary>
public sealed class ImportTests(ITestOutputHelper output)
{
    private const string CustomerHead = "external_id,name,email,country,city\n";
    private const string OrderHead =
        "order,customer,promised,material,finish,quantity,width_mm,height_mm,thickness_mm,nothing_hidden,unit_price\n";

    [Fact]
    public async Task Customers_TenThousandWithSeventeenBad_AreTakenWithoutThem()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var file = new StringBuilder(CustomerHead);
        for (var n = 1; n <= 10_000; n++)
            file.AppendLine(
                CultureInfo.InvariantCulture,
                $"c{n},Person {n},{(n % 600 == 0 ? "no address" : $"p{n}@example.org")},DE,Moorstedt"
            );
        // 16 addresses that are none, and one id that stands there twice.
        file.AppendLine("c1,Person again,again@example.org,DE,Moorstedt");
        var clock = Stopwatch.StartNew();
        var input = new ImportInput(ImportKind.Customers, file.ToString(), GoodRowsOnly: true);
        var preview = await shop.Shop.Get<ImportPreview>().LoadAsync(input);
        Assert.Equal((9_984, 17), (preview.Value.New, preview.Value.BadRows));
        var refused = await ImportAsync(shop, input with { GoodRowsOnly = false });
        Assert.Equal("import-bad-rows", refused.Refusals[0].Code);
        Assert.Equal(0, await CountAsync(shop));
        var report = (await ImportAsync(shop, input)).Value;
        output.WriteLine($"three passes over 10,001 rows: {clock.Elapsed.TotalSeconds:0.0} s");
        Assert.Equal((9_984, 0, 0, 17), (report.New, report.Changed, report.Same, report.BadRows));
        Assert.Equal(9_984, await CountAsync(shop));
        Assert.Equal((601, "email"), (report.Faults[0].Row, report.Faults[0].Column));
        var again = (await ImportAsync(shop, input)).Value;
        Assert.Equal((0, 0, 9_984), (again.New, again.Changed, again.Same));
    }

    /// <summary>What was checked is taken in without being sent again: by whoever had it checked, once, and for a day.</summary>
    [Fact]
    public async Task Checked_ThenTakenIn_IsTheFileOfTheCheck()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var files = shop.Shop.Get<CheckedImport>();
        var (asked, kind) = (shop.Asked(), ImportKind.Customers);
        var owner = asked.Worker!.Value;
        var first = (await files.CheckAsync(owner, kind, CustomerHead + "c1,Ida Moorö,ida@example.org,DE,Moorstedt\n")).Value;
        var second = (
            await files.CheckAsync(owner, kind, CustomerHead + "c2,Bo,none,DE,Moorstedt\nc3,Ea,ea@example.org,DE,Moorstedt\n")
        ).Value;
        Assert.Equal((1, 1, 1, 0), (first.Report.New, second.Report.New, second.Report.BadRows, await CountAsync(shop)));
        Assert.Equal("file-gone", Code(await files.TakeAsync(ShopFloor.Web.Commands.Asked.By(Guid.NewGuid()), kind, first.Mark, false)));
        Assert.Equal("import-bad-rows", Code(await files.TakeAsync(shop.Asked(), kind, second.Mark, false)));
        Assert.Equal(1, (await files.AgainAsync(owner, kind, second.Mark)).Value.Report.BadRows);
        Assert.Equal(1, (await files.TakeAsync(asked, kind, first.Mark, false)).Value.New);
        Assert.Equal("file-gone", Code(await files.TakeAsync(asked, kind, first.Mark, false)));
        // The file's own time is the disk's.
        shop.Shop.Clock.Advance(TimeSpan.FromDays(36_500));
        Assert.Equal("file-gone", Code(await files.TakeAsync(shop.Asked(), kind, second.Mark, true)));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal("Ida Moorö", (await context.Customers.SingleAsync(c => c.ExternalId == "c1")).Contact.Name);
        static string Code(ShopFloor.Domain.Result<ImportReport> done) => done.IsOk ? "" : done.Refusals[0].Code;
    }

    [Fact]
    public async Task Orders_ALengthThatCanBeTwo_IsABadRow()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await ImportAsync(shop, Customers("c1,Ida,ida@example.org,DE,Moorstedt"));
        var input = Orders("web-1,c1,2026-03-20,al,white ground,1,100,1.250,1,yes,");
        var fault = Assert.Single((await shop.Shop.Get<ImportPreview>().LoadAsync(input)).Value.Faults);
        Assert.Equal("height_mm", fault.Column);
        Assert.EndsWith("Write 1250 or 1.25.", fault.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Customers_FileWithoutSomeColumns_LeavesThemAndEmptiesEmptyCells()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        const string whole = "external_id,name,company,email,phone,street,postcode,city,country,vat_id\n";
        await ImportAsync(
            shop,
            new ImportInput(
                ImportKind.Customers,
                whole + "c1,Ida,Torfhaus,ida@example.org,030 555 01,Kade 1,1000,Moorstedt,DE,DE123456789\n",
                false
            )
        );
        var input = new ImportInput(
            ImportKind.Customers,
            "external_id,name,email,phone,city\nc1,Ida Moor,ida@example.org,,Torfheim\n",
            false
        );
        var preview = (await shop.Shop.Get<ImportPreview>().LoadAsync(input)).Value;
        Assert.Equal(["company", "street", "postcode", "country", "vat_id", "group"], preview.Kept);
        Assert.Equal(1, (await ImportAsync(shop, input)).Value.Changed);
        await using var context = await shop.Shop.ContextAsync();
        var customer = await context.Customers.SingleAsync(c => c.ExternalId == "c1");
        Assert.Equal(("Ida Moor", "ida@example.org", ""), (customer.Contact.Name, customer.Contact.Email, customer.Contact.Phone));
        Assert.Equal(("Torfhaus", "DE123456789"), (customer.Company, customer.VatId));
        Assert.Equal(new ShopFloor.Domain.Orders.Address("Kade 1", "1000", "Torfheim", "DE"), customer.Address);
        Assert.Equal(1, (await ImportAsync(shop, input)).Value.Same);
    }

    [Fact]
    public async Task Orders_MoreThanAPortion_LetOthersInBetweenAndGoOnAfterABrokenEnd()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await ImportAsync(shop, Customers("c1,Ida,ida@example.org,DE,Moorstedt"));
        // The lines of one order lie far from each other in the file; they are booked together.
        string[] rows =
        [
            .. Enumerable.Range(1, 240).Select(n => $"web-{n},c1,2026-03-20,al,white ground,1,100,60,1,yes,"),
            "web-1,c1,2026-03-20,al,white ground,2,100,60,1,yes,",
        ];
        var input = Orders(rows);
        using var stop = new CancellationTokenSource();
        var told = 0;
        using var heard = shop
            .Shop.Get<Notifier>()
            .Subscribe(
                [Topic.Order],
                _ =>
                {
                    if (++told == 2)
                        stop.Cancel();
                }
            );
        var import = shop.Shop.Get<ImportRows>();
        var asked = shop.Asked();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => import.RunAsync(asked, input, stop.Token));
        Assert.InRange(await OrdersAsync(shop), 1, 239);

        var report = (await shop.Shop.Get<ImportRows>().RunAsync(asked, input)).Value;

        Assert.Equal(240, await OrdersAsync(shop));
        Assert.Equal((241, 240), (report.Rows, report.New + report.Same));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(2, (await context.Orders.AsNoTracking().SingleAsync(o => o.ExternalId == "web-1")).Lines.Count);
    }

    [Fact]
    public async Task Customers_ChangedInTheFile_AreChangedOnce()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await ImportAsync(shop, Customers("c1,Ida,ida@example.org,DE,Moorstedt"));
        var report = (await ImportAsync(shop, Customers("c1,Ida,ida@example.org,DE,Elsewhere"))).Value;
        Assert.Equal((0, 1, 0), (report.New, report.Changed, report.Same));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal("Elsewhere", (await context.Customers.AsNoTracking().SingleAsync(c => c.ExternalId == "c1")).Address!.City);
    }

    [Fact]
    public async Task Orders_SeveralLines_AreBookedOnceAtTheirPricesAndDays()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await ImportAsync(shop, Customers("c1,Ida,ida@example.org,DE,Moorstedt"));
        var input = Orders(
            "web-7,c1,2026-03-20,al,white ground,3,100,60,1,yes,12.50",
            "web-7,c1,2026-03-20,slate,white ground,1,100,100,6,yes,",
            "web-8,c1,2026-03-21,al,show-through,2,100,60,1,yes,"
        );
        Assert.Equal((2, 0, 0), Counts((await ImportAsync(shop, input)).Value));
        Assert.Equal((0, 0, 2), Counts((await ImportAsync(shop, input)).Value));
        await using var context = await shop.Shop.ContextAsync();
        var order = await context.Orders.AsNoTracking().SingleAsync(o => o.ExternalId == "web-7");
        Assert.Equal(new DateTimeOffset(2026, 3, 20, 17, 0, 0, TimeSpan.Zero), order.PromisedAt);
        Assert.Equal(37.5m, order.Lines.Single(l => l.Number == 1).Price.Gross);
        Assert.Equal(4, await context.Pieces.CountAsync(p => p.Order == order.Id));
    }

    /// <summary>Three orders in five rows, one of which is bad: an order is counted once, however many rows it has, and goes whole or not at all.</summary>
    [Fact]
    public async Task Orders_SeveralLinesAndABadRow_AreCountedAsOrders()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await ImportAsync(shop, Customers("c1,Ida,ida@example.org,DE,Moorstedt"));
        var input = Orders(
            "web-1,c1,2026-03-20,al,white ground,1,100,60,1,yes,",
            "web-1,c1,2026-03-20,al,white ground,2,100,60,1,yes,",
            "web-2,c1,2026-03-20,al,white ground,1,100,60,1,yes,",
            "web-2,c1,2026-03-20,al,white ground,0,100,60,1,yes,",
            "web-3,c1,2026-03-20,al,white ground,1,100,60,1,yes,"
        );
        var preview = (await shop.Shop.Get<ImportPreview>().LoadAsync(input)).Value;
        Assert.Equal((3, 5, 2, 1, 1), (preview.Orders, preview.Rows, preview.New, preview.BadOrders, preview.BadRows));
        var taken = (await ImportAsync(shop, input with { GoodRowsOnly = true })).Value;
        Assert.Equal((3, 5, 2, 1, 1), (taken.Orders, taken.Rows, taken.New, taken.BadOrders, taken.BadRows));
        Assert.Null((await shop.Shop.Get<ImportPreview>().LoadAsync(Customers("c2,Bo,bo@example.org,DE,Moorstedt"))).Value.Orders);
    }

    [Fact]
    public async Task Orders_LightLetters_AreTakenInToldEverywhereAndWrittenOutAgain()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await ImportAsync(shop, Customers("c1,Ida,ida@example.org,DE,Moorstedt"));
        var file =
            $"{OrderHead.TrimEnd()},texts,light_letters\n"
            + "web-1,c1,2026-03-20,al,white ground,1,100,60,1,yes,,Ida,yes\nweb-1,c1,2026-03-20,al,white ground,1,100,60,1,yes,,Bo,no";
        Assert.Equal((1, 0, 0), Counts((await ImportAsync(shop, new ImportInput(ImportKind.Orders, file, false))).Value));

        await using var context = await shop.Shop.ContextAsync();
        var number = (await context.Orders.AsNoTracking().SingleAsync(o => o.ExternalId == "web-1")).Number;
        var office = (await shop.Shop.Get<OrderDetailView>().LoadAsync(number))!;
        var (order, _) = (await shop.Shop.Get<OrderStatusView>().OneAsync(number, default))!.Value;
        Assert.Equal([true, false], office.Lines.Select(l => l.LightLetters));
        Assert.Equal([true, false], order.Lines.Select(l => l.LightLetters));
        var written = await shop.Shop.Get<EverythingOut>().FileAsync(ImportKind.Orders, default);
        var rows = CsvSheet.Read(written, ImportRows.Columns(ImportKind.Orders)).Value;
        Assert.Equal(["yes", "no"], rows.Where(r => r.Cells["order"] == "web-1").Select(r => r.Cells["light_letters"]));
        var asked = new LineIn { Finish = Finish.WhiteGround, LightLetters = true }
            .ToInput("lines.0")
            .Value;
        Assert.True(asked.Placement.LightLetters);
    }

    [Fact]
    public async Task Orders_BadRows_AreToldWithTheirColumns()
    {
        (string Row, string Column)[] bad =
        [
            ("w1,nobody,2026-03-20,al,white ground,1,100,60,1,yes,", "customer"),
            ("w2,c1,tomorrow,al,white ground,1,100,60,1,yes,", "promised"),
            ("w3,c1,2026-03-20,al,glittering,1,100,60,1,yes,", "finish"),
            ("w4,c1,2026-03-20,al,white ground,0,100,60,1,yes,", "quantity"),
            ("w5,c1,2026-03-20,al,white ground,1,-4,60,1,yes,", "width_mm"),
            ("w6,c1,2026-03-20,al,white ground,1,100,60,1,perhaps,", "nothing_hidden"),
            ("w7,c1,2026-03-20,al,white ground,1,100,60,1,yes,free", "unit_price"),
            ("w8,c1,2026-03-20,pvc,white ground,1,100,60,1,yes,", "material"),
            ("w9,c1,2026-03-20,al,behind glass,1,100,60,1,yes,", "finish"),
        ];
        await using var shop = await InvoicingShop.OpenAsync();
        await ImportAsync(shop, Customers("c1,Ida,ida@example.org,DE,Moorstedt"));
        var report = (await ImportAsync(shop, Orders([.. bad.Select(b => b.Row)]) with { GoodRowsOnly = true })).Value;
        foreach (var (row, column) in bad.Select((b, i) => (i + 2, b.Column)))
            Assert.Contains(report.Faults, f => (f.Row, f.Column) == (row, column));
        Assert.Equal((0, bad.Length), (report.New, report.BadRows));
    }

    [Fact]
    public async Task Prices_OneChangedOneUnknown_ChangeAndTell()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var prices = await shop.Shop.Get<EverythingOut>().FileAsync(ImportKind.Prices, default);
        Assert.Equal((0, 0), NewAndChanged((await ImportAsync(shop, new ImportInput(ImportKind.Prices, prices, false))).Value));
        var file = "code,price\nclear,31.5\nunheard,1\nclear,2\nwhite,-3\n";
        var report = (await ImportAsync(shop, new ImportInput(ImportKind.Prices, file, true))).Value;
        Assert.Equal([(3, "code"), (4, "code"), (5, "price")], report.Faults.Select(f => (f.Row, f.Column)));
        Assert.Equal(1, report.Changed);
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(31.5m, (await context.Coatings.AsNoTracking().SingleAsync(c => c.Code == "clear")).Settings.CanPriceOn(shop.Today));
        Assert.Contains(await context.Audit.ToListAsync(), a => a.What == "price imported");
    }

    [Fact]
    public async Task Everything_ExportedTakenInAndExported_IsTheSame()
    {
        await using var first = await InvoicingShop.OpenAsync();
        await ImportAsync(first, Customers("c1,\"=HYPERLINK(\"\"x\"\")\",ida@example.org,DE,\"Moorstedt; am Torf\""));
        await ImportAsync(first, Orders("web-1,c1,2026-03-20,al,white ground,3,100,60,1,yes,12.50"));
        var files = await FilesAsync(first);
        await using var second = await InvoicingShop.OpenAsync();
        foreach (var kind in new[] { ImportKind.Customers, ImportKind.Orders })
        {
            var taken = await ImportAsync(second, new ImportInput(kind, files[kind], false));
            Assert.True(taken.IsOk, string.Join("; ", taken.Refusals.Select(r => r.Text)));
        }
        var again = await FilesAsync(second);
        foreach (var kind in new[] { ImportKind.Customers, ImportKind.Orders, ImportKind.Prices })
        foreach (var line in files[kind].Split("\r\n").Where(l => l.Contains("c1,", StringComparison.Ordinal)))
            Assert.Contains(line, again[kind].Split("\r\n"));
        // Into the shop it came from, the same file changes nothing.
        foreach (var kind in new[] { ImportKind.Customers, ImportKind.Orders, ImportKind.Prices })
            Assert.Equal((0, 0), NewAndChanged((await ImportAsync(first, new ImportInput(kind, files[kind], false))).Value));
    }

    [Fact]
    public async Task Everything_InOneZip_HasTablesPapersAndNoSecret()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var issued = await shop.InvoiceAsync(await shop.OrderAsync());
        using var stream = new MemoryStream();
        await shop.Shop.Get<EverythingOut>().WriteAsync(stream, default);
        stream.Position = 0;
        using var zip = new ZipArchive(stream);
        var names = zip.Entries.Select(e => e.FullName).ToList();
        foreach (
            var name in new[]
            {
                "tables/Orders.csv",
                "tables/OrderLines.json",
                "tables/Pieces.csv",
                "tables/Journal.csv",
                "tables/Payments.csv",
                $"papers/{issued.Number}.pdf",
                $"papers/{issued.Number}.xml",
                "customers.csv",
                "orders.csv",
                "prices.csv",
            }
        )
            Assert.Contains(name, names);
        Assert.DoesNotContain(
            names,
            n => n.Contains("AspNet", StringComparison.Ordinal) || n.Contains("AccessKeys", StringComparison.Ordinal)
        );
        using var orders = new StreamReader(zip.GetEntry("tables/Orders.csv")!.Open());
        var text = await orders.ReadToEndAsync();
        Assert.DoesNotContain("StatusLinkHash", text, StringComparison.Ordinal);
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(await context.Orders.CountAsync() + 1, text.TrimEnd().Split("\r\n").Length);
    }

    private static async Task<Dictionary<ImportKind, string>> FilesAsync(InvoicingShop shop)
    {
        Dictionary<ImportKind, string> files = [];
        foreach (var kind in Enum.GetValues<ImportKind>())
            files[kind] = await shop.Shop.Get<EverythingOut>().FileAsync(kind, default);
        return files;
    }

    private static Task<Result<ImportReport>> ImportAsync(InvoicingShop shop, ImportInput input) =>
        shop.Shop.Get<ImportRows>().RunAsync(shop.Asked(), input);

    private static ImportInput Customers(params string[] rows) => new(ImportKind.Customers, CustomerHead + string.Join('\n', rows), false);

    private static ImportInput Orders(params string[] rows) => new(ImportKind.Orders, OrderHead + string.Join('\n', rows), false);

    private static (int, int, int) Counts(ImportReport report) => (report.New, report.Changed, report.Same);

    private static (int, int) NewAndChanged(ImportReport report) => (report.New, report.Changed);

    private static async Task<int> OrdersAsync(InvoicingShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Orders.CountAsync(o => o.ExternalId != "");
    }

    private static async Task<int> CountAsync(InvoicingShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Customers.CountAsync(c => c.ExternalId != "");
    }
}
