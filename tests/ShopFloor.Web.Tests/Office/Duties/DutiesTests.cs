using System.IO.Compression;
using System.Text;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Safety;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Workshop;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Office.Invoices;

namespace ShopFloor.Web.Tests.Office.Duties;

/// <summary>One person's data found, given out and erased; what is over its time goes; a restored backup forgets again.</summary>
public sealed class DutiesTests
{
    [Fact]
    public async Task Erase_PaidCustomer_LeavesTheNameOnInvoicesOnlyAndThereUntilTheirTimeIsOver()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (customer, name) = await DoneAndPaidAsync(shop);
        var held = Assert.Single(await shop.Shop.Get<PersonView>().FindAsync(name));
        Assert.Equal((1, 1), (held.Orders, held.Documents));
        await IsGivenOutAsync(shop, customer, name);
        var before = Backup.Make(ShopDatabase.FileIn(shop.Shop.Folder), shop.Shop.Folder, "before").File;

        var done = await shop.Shop.Get<EraseCustomer>().RunAsync(shop.Asked(), new EraseInput(customer));
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
        Assert.Equal(
            "customer-erased",
            (await shop.Shop.Get<EraseCustomer>().RunAsync(shop.Asked(), new EraseInput(customer))).Refusals[0].Code
        );
        Assert.Equal(["Documents"], await TablesWithAsync(shop, name));
        var erased = Assert.Single(await shop.Shop.Get<PersonView>().FindAsync(null));
        Assert.Equal(new DateOnly(2036, 12, 31), erased.DocumentsUntil);
        Assert.Contains((await shop.Shop.Get<RecordView>().SafetyAsync(false, 1)).Rows, r => r.What == "customer erased");
        await JournalStillReplaysAsync(shop, customer);

        // An older database comes back: the list beside it knows better.
        SqliteConnection.ClearAllPools();
        Assert.NotNull(Restore.Put(before, shop.Shop.Folder, shop.Shop.Clock.GetUtcNow()));
        Assert.Contains("Customers", await TablesWithAsync(shop, name));
        Assert.Equal(1, await ReapplyErasures.RunAsync(shop.Shop.Get<IServiceProvider>()));
        Assert.Equal(["Documents"], await TablesWithAsync(shop, name));

        var clear = shop.Shop.Get<ClearOldData>();
        shop.Shop.Clock.Advance(new DateTimeOffset(2036, 12, 31, 12, 0, 0, TimeSpan.Zero) - shop.Shop.Clock.GetUtcNow());
        await clear.RunAsync();
        Assert.Equal(["Documents"], await TablesWithAsync(shop, name));
        Assert.Contains("Payments", await TablesWithAsync(shop, "from my aunt"));
        shop.Shop.Clock.Advance(TimeSpan.FromDays(1));
        await clear.RunAsync();
        Assert.Empty(await TablesWithAsync(shop, name));
        Assert.Empty(await TablesWithAsync(shop, "from my aunt"));
        await using var context = await shop.Shop.ContextAsync();
        var kept = Assert.Single(await context.Documents.AsNoTracking().Where(d => d.CustomerName == "Erased").ToListAsync());
        Assert.Equal(kept.Total, OrderAccount.Read(kept.Json).Totals.Payable);
    }

    [Fact]
    public async Task Export_PhotosOfWhatTheCustomerBrought_AreInIt()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var (customer, _) = await DoneAndPaidAsync(shop);
        await using var context = await shop.Shop.ContextAsync();
        var photo = (await CurrentSettings.LoadAsync(context, shop.Shop.Clock.GetUtcNow(), default)).Logo.Picture!.Value;
        var piece = await context.Pieces.FirstAsync(p => context.Orders.Any(o => o.Id == p.Order && o.Customer == customer));
        var journal = await context.Journal.Where(j => j.Piece == piece.Id).OrderBy(j => j.Sequence).ToListAsync();
        var booked = journal.First(j => j.Read() is PieceBooked);
        booked.Erase((PieceBooked)booked.Read() with { Photos = [photo] });
        await context.SaveChangesAsync();
        using var zip = new ZipArchive(new MemoryStream((await shop.Shop.Get<PersonView>().ExportAsync(customer))!));
        Assert.Single(zip.Entries, e => e.FullName.StartsWith($"pictures/{photo.Value:N}.", StringComparison.Ordinal));
    }

    /// <summary>A bank's words name the payer: where no paper must be kept they go with the rest.</summary>
    [Fact]
    public async Task Erase_PaymentOfAnOrderWithoutPapers_LosesItsWordsAtOnce()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await using var context = await shop.Shop.ContextAsync();
        var order = await context
            .Orders.AsNoTracking()
            .OrderBy(o => o.Number)
            .FirstAsync(o =>
                !context.Documents.Any(d => d.Order == o.Id)
                && context.Pieces.Any(p => p.Order == o.Id)
                && context.Pieces.Where(p => p.Order == o.Id).All(p => p.State == PieceState.HandedOver)
                && !context.Orders.Any(x => x.Customer == o.Customer && x.Id != o.Id)
            );
        var input = new PaymentInput(null, order.Id, 3.21m, shop.Today, "transfer", "IDA MOOR, THANK YOU");
        Assert.True((await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), input)).IsOk);
        var done = await shop.Shop.Get<EraseCustomer>().RunAsync(shop.Asked(), new EraseInput(order.Customer));
        Assert.True(done.IsOk, string.Join("; ", done.Refusals.Select(r => r.Text)));
        var payments = await context.Payments.AsNoTracking().Where(p => p.Order == order.Id).ToListAsync();
        Assert.Equal((3.21m, ""), (payments.Single(p => p.Amount == 3.21m).Amount, string.Concat(payments.Select(p => p.Note))));
    }

    [Fact]
    public async Task Erase_SomethingOpen_IsRefusedWithTheReason()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await using var context = await shop.Shop.ContextAsync();
        var working = await context.Pieces.AsNoTracking().FirstAsync(p => p.State == PieceState.InWork);
        var customer = (await context.Orders.AsNoTracking().FirstAsync(o => o.Id == working.Order)).Customer;
        var refused = await shop.Shop.Get<EraseCustomer>().RunAsync(shop.Asked(), new EraseInput(customer));
        Assert.Equal("orders-open", refused.Refusals[0].Code);
    }

    [Fact]
    public async Task Clear_OldThings_GoAndTheDryRunSaidSo()
    {
        await using var shop = await InvoicingShop.OpenAsync();
        await using (var context = await shop.Shop.ContextAsync())
        {
            context.Drafts.Add(new Domain.Orders.Draft(Guid.CreateVersion7(), "order", "x", shop.Shop.Clock.GetUtcNow()));
            await context.SaveChangesAsync();
        }
        Assert.Equal(0, (await shop.Shop.Get<KeepingView>().LoadAsync())[0].Count);
        shop.Shop.Clock.Advance(TimeSpan.FromDays(800));
        var said = await shop.Shop.Get<KeepingView>().LoadAsync();
        Assert.True(said[0].Count == 1 && said[1].Count > 0 && said[2].Count > 0, string.Join("; ", said));
        Assert.Equal(said.Sum(l => l.Count), (await shop.Shop.Get<ClearOldData>().RunAsync()).Value);
        Assert.Equal("nothing-due", (await shop.Shop.Get<ClearOldData>().RunAsync()).Refusals[0].Code);
        await using var after = await shop.Shop.ContextAsync();
        var logo = (await CurrentSettings.LoadAsync(after, shop.Shop.Clock.GetUtcNow(), default)).Logo.Picture;
        Assert.True(await after.Pictures.AnyAsync(p => p.Id == logo));
    }

    [Theory]
    [InlineData(30, 40, false)]
    [InlineData(90, 80, true)]
    [InlineData(200, 150, true)]
    public async Task Link_DaysThatTheOwnerSet_HoldForANewOneToo(int kept, int later, bool isGiven)
    {
        await using var shop = await InvoicingShop.OpenAsync();
        var times = new KeepingTimes { LinkDays = kept };
        Assert.True((await shop.Shop.Get<ChangeKeeping>().RunAsync(shop.Asked(), times)).IsOk);
        await using var context = await shop.Shop.ContextAsync();
        var number = await context
            .Orders.Where(o => context.Pieces.Where(p => p.Order == o.Id).All(p => p.State == PieceState.HandedOver))
            .OrderBy(o => o.Number)
            .Select(o => o.Number)
            .FirstAsync();
        await context
            .Pieces.Where(p => context.Orders.Any(o => o.Id == p.Order && o.Number == number))
            .ExecuteUpdateAsync(p => p.SetProperty(x => x.ChangedAt, shop.Shop.Clock.GetUtcNow()));
        shop.Shop.Clock.Advance(TimeSpan.FromDays(later));
        var made = await shop.Shop.Get<NewStatusLink>().RunAsync(shop.Asked(), number);
        Assert.Equal(isGiven ? "" : "link-over", made.IsOk ? "" : made.Refusals[0].Code);
        Assert.Equal(isGiven, made.IsOk && await shop.Shop.Get<Web.Counter.Status.StatusView>().RunAsync(made.Value.Token) is not null);
    }

    [Theory]
    [InlineData("bench", "counter", true)]
    [InlineData("", "5.90 EUR", true)]
    [InlineData("[]", "[{\"from\":\"2027-01-01\",\"price\":1.25}]", false)]
    [InlineData("", "{\"a\":1}", false)]
    public void IsShort_WordsAndNumbers_ButNoLists(string before, string after, bool isShort) =>
        Assert.Equal(isShort, new AuditRow(default, default, "", "", "", before, after).IsShort);

    [Fact]
    public void Difference_OfTwoSettings_NamesEachValue()
    {
        var changes = AuditDifference.Of("""{"a":1,"b":{"c":"x"},"d":[1,2]}""", """{"a":2,"b":{"c":"x"},"d":[1],"e":true}""");
        Assert.Equal([("a", "1", "2"), ("e", "", "True"), ("d 2", "2", "")], changes.Select(c => (c.Name, c.Before, c.After)));
        Assert.Equal(("value", "P-1", "P-2"), AuditDifference.Of("P-1", "P-2").Select(c => (c.Name, c.Before, c.After)).Single());
    }

    private static async Task<(CustomerId Customer, string Name)> DoneAndPaidAsync(InvoicingShop shop)
    {
        OrderId order;
        await using (var context = await shop.Shop.ContextAsync())
            order = (await context.Pieces.AsNoTracking().OrderBy(p => p.Code).FirstAsync(p => p.State == PieceState.HandedOver)).Order;
        var issued = await shop.InvoiceAsync(order);
        var open = (await shop.DetailAsync(issued.Number)).Outstanding;
        if (open > 0m)
            Assert.True(
                (
                    await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), new PaymentInput(issued.Id, null, open, shop.Today, "cash"))
                ).IsOk
            );
        await using var read = await shop.Shop.ContextAsync();
        var found = await read.Orders.AsNoTracking().FirstAsync(o => o.Id == order);
        return (found.Customer, found.Contact.Name);
    }

    private static async Task IsGivenOutAsync(InvoicingShop shop, CustomerId customer, string name)
    {
        await using (var context = await shop.Shop.ContextAsync())
        {
            var order = await context.Orders.Where(o => o.Customer == customer).Select(o => o.Id).FirstAsync();
            var input = new PaymentInput(null, order, 3.21m, shop.Today, "cash", "from my aunt");
            Assert.True((await shop.Shop.Get<EnterPayment>().RunAsync(shop.Asked(), input)).IsOk);
        }
        using var zip = new ZipArchive(new MemoryStream((await shop.Shop.Get<PersonView>().ExportAsync(customer))!));
        Assert.Contains(zip.Entries, e => e.FullName.StartsWith("papers/", StringComparison.Ordinal));
        var pictures = zip.Entries.Where(e => e.FullName.StartsWith("pictures/", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(pictures);
        Assert.All(pictures, p => Assert.Contains(Path.GetExtension(p.Name), new[] { ".jpeg", ".png", ".webp" }));
        using var reader = new StreamReader(zip.GetEntry("customer.json")!.Open());
        Assert.Contains(name, System.Text.RegularExpressions.Regex.Unescape(await reader.ReadToEndAsync()), StringComparison.Ordinal);
        using var payments = new StreamReader(zip.GetEntry("payments.json")!.Open());
        var paid = await payments.ReadToEndAsync();
        Assert.Contains("\"amount\":3.21", paid, StringComparison.Ordinal);
        Assert.Contains("\"note\":\"from my aunt\"", paid, StringComparison.Ordinal);
        Assert.DoesNotContain(shop.Owner.ToString(), paid, StringComparison.Ordinal);
    }

    private static async Task JournalStillReplaysAsync(InvoicingShop shop, CustomerId customer)
    {
        await using var context = await shop.Shop.ContextAsync();
        var pieces = await context
            .Pieces.AsNoTracking()
            .Where(p => context.Orders.Any(o => o.Id == p.Order && o.Customer == customer))
            .ToListAsync();
        foreach (var piece in pieces)
        {
            var journal = await context.Journal.AsNoTracking().Where(j => j.Piece == piece.Id).OrderBy(j => j.Sequence).ToListAsync();
            var again = new Piece(piece.Id);
            again.Replay([.. journal.Select(j => (j.Id, j.Read()))]);
            Assert.Equal((piece.State, piece.IsBound, null, null), (again.State, again.IsBound, again.BoundText, again.BoundPicture));
        }
    }

    /// <summary>Tables in which a text stands anywhere.</summary>
    private static async Task<IReadOnlyList<string>> TablesWithAsync(InvoicingShop shop, string text)
    {
        await using var context = await shop.Shop.ContextAsync();
        await context.Database.OpenConnectionAsync();
        List<string> found = [];
        foreach (
            var table in context
                .Model.GetEntityTypes()
                .Select(t => t.GetTableName()!)
                .Distinct(StringComparer.Ordinal)
                .Order(StringComparer.Ordinal)
        )
        {
            await using var command = context.Database.GetDbConnection().CreateCommand();
            command.CommandText = $"SELECT * FROM \"{table}\"";
            await using var reader = await command.ExecuteReaderAsync();
            var has = false;
            while (await reader.ReadAsync())
                for (var i = 0; i < reader.FieldCount; i++)
                    has |= reader.GetValue(i) is string value && value.Contains(text, StringComparison.Ordinal);
            if (has)
                found.Add(table);
        }
        return found;
    }
}
