using System.Text.Json;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Background.Sending;
using ShopFloor.Web.Live;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Office.Invoices;
using ShopFloor.Web.Office.Orders;
using ShopFloor.Web.Office.Orders.Changes;
using ShopFloor.Web.Office.People;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Tests.Office.Orders;

/// <summary>Texts, contact, wanted day and promise of a booked order are put right: checked, written down, never over somebody else's.</summary>
public sealed class CorrectOrderTests
{
    [Fact]
    public async Task Texts_Corrected_AreKeptAndToldAndTheApprovalFallsBack()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2, "Ana"));
        await shop.WriteAsync(o => o.AskForProof());
        await shop.WriteAsync(o => Assert.True(o.JudgeProof(true, "seen").IsOk));
        var heard = new List<Change>();
        using var news = shop.Get<Notifier>().Subscribe([Topic.Order], heard.AddRange);

        var done = await TextsAsync(shop, " Anna ", "");

        Assert.True(done.IsOk, done.Refusals.FirstOrDefault()?.Text);
        var order = await shop.OrderAsync();
        Assert.Equal(["Anna"], order.Lines[0].Texts);
        Assert.Equal(ProofState.Waiting, order.Proof);
        var entry = Assert.Single(await shop.AuditAsync());
        Assert.Equal(("order text changed", "line 1: Ana", "line 1: Anna"), (entry.What, entry.Before, entry.After));
        Assert.Contains(heard, c => c.Id == order.Id.Value);
    }

    [Theory]
    [InlineData("texts", "a", "b")]
    [InlineData("text-unprintable", "\ud83d\ude00")]
    [InlineData("text-same", "Ana")]
    public async Task Texts_ThatCannotBe_AreRefusedBesideTheirField(string code, params string[] texts)
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(3, "Ana"));
        var refusal = Assert.Single((await TextsAsync(shop, texts)).Refusals);
        Assert.Equal((code, "texts"), (refusal.Code, refusal.Field));
        Assert.Equal(["Ana"], (await shop.OrderAsync()).Lines[0].Texts);
    }

    [Fact]
    public async Task Texts_PrintedOrCalledOffOrChangedMeanwhile_AreRefused()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(1, "Ana"));
        var seen = (await shop.DetailAsync()).Version;
        await shop.WriteAsync(o => o.Write("called"));
        var stale = await shop.Get<CorrectTexts>().RunAsync(shop.Asked(), new TextsInput(shop.Booked.Order, seen, 1, ["Anna"]));
        Assert.Equal("changed-meanwhile", stale.Refusals[0].Code);
        await shop.WriteAsync(o => Assert.True(o.Printed(shop.Shop.Clock.GetUtcNow()).IsOk));
        Assert.Equal("printed", (await TextsAsync(shop, "Anna")).Refusals[0].Code);
        await shop.WriteAsync(o => o.Cancel(shop.Shop.Clock.GetUtcNow()));
        Assert.Equal("order-off", (await TextsAsync(shop, "Anna")).Refusals[0].Code);
        Assert.Empty(await shop.AuditAsync());
    }

    [Fact]
    public async Task Texts_SentTwice_AreChangedOnceAndAnsweredTheSame()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(1, "Ana"));
        var (asked, input) = (shop.Asked(), new TextsInput(shop.Booked.Order, (await shop.DetailAsync()).Version, 1, ["Anna"]));
        Assert.True((await shop.Get<CorrectTexts>().RunAsync(asked, input)).IsOk);
        Assert.True((await shop.Get<CorrectTexts>().RunAsync(asked, input)).IsOk);
        Assert.Single(await shop.AuditAsync());
    }

    [Fact]
    public async Task Contact_Corrected_IsFollowedByTheCustomersPageAndForgottenWithTheCustomer()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(1));
        var wrong = await ContactAsync(shop, new Contact("", "ida@", "12"), null);
        Assert.Equal(["email", "name", "phone"], wrong.Refusals.Select(r => r.Field).Order());

        var wanted = new DateOnly(2026, 3, 20);
        Assert.True((await ContactAsync(shop, new Contact("Ida Sandborg", "", "030 123456"), wanted)).IsOk);

        var detail = await shop.DetailAsync();
        Assert.Equal(("Ida Sandborg", "030 123456", wanted), (detail.Contact.Name, detail.Contact.Phone, detail.Wanted!.Value));
        Assert.Equal(["order contact changed", "wanted day changed"], (await shop.AuditAsync()).Select(a => a.What).Order());
        await using (var context = await shop.Shop.ContextAsync())
            Assert.Equal("Ida Sandberg", (await context.Customers.SingleAsync(c => c.Id == detail.Customer)).Contact.Name);
        var off = new OrderChange(detail.Id, detail.Version, OrderAct.Cancel, "called off");
        Assert.True((await shop.Get<ChangeOrder>().RunAsync(shop.Asked(), off)).IsOk);
        Assert.True((await shop.Get<EraseCustomer>().RunAsync(shop.Asked(), new EraseInput(detail.Customer))).IsOk);
        var entry = (await shop.AuditAsync()).Single(a => a.What == "order contact changed");
        Assert.Equal(("", ""), (entry.Before, entry.After));
    }

    [Fact]
    public async Task Contact_AnotherAddress_LeavesTheWorkshopsOwnMailAndHoldsWhileAReminderWaits()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(1));
        await MailAsync(shop, "owner@moorlight.example", "customer/1");
        await MailAsync(shop, "ida@example.org", MailOverdue.Key + "1");

        var refused = await ContactAsync(shop, new Contact("Ida Sandberg", "", "030 123456"), null);
        Assert.Equal(("reminder-waits", "Contact.Email"), (refused.Refusals[0].Code, refused.Refusals[0].Field));
        Assert.True((await ContactAsync(shop, new Contact("Ida Sandberg", "ida@example.com", ""), null)).IsOk);

        await using var context = await shop.Shop.ContextAsync();
        var mails = await context.Outbox.OrderBy(m => m.Key).ToListAsync();
        Assert.Equal(
            ["owner@moorlight.example", "ida@example.com"],
            mails.Select(m => JsonSerializer.Deserialize<MailContent>(m.Json, JsonForms.Default)!.To)
        );
    }

    private static async Task MailAsync(ChangedShop shop, string to, string key)
    {
        await using var context = await shop.Shop.ContextAsync();
        var json = JsonSerializer.Serialize(new MailContent(to, "", "Ready", "It is ready.", OnlyWhileReady: true), JsonForms.Default);
        context.Outbox.Add(
            new OutboxMessage(Guid.CreateVersion7(), OutboxMessage.Mail, json, shop.Shop.Clock.GetUtcNow())
            {
                Order = shop.Booked.Order,
                Key = key,
            }
        );
        await context.SaveChangesAsync();
    }

    [Fact]
    public async Task Contact_AnotherAddress_IsWhereWaitingMailsGo()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(1));
        await MailAsync(shop, "ida@example.org", "");
        Assert.True((await ContactAsync(shop, new Contact("Ida Sandberg", "ida@example.com", ""), null)).IsOk);
        await using (var context = await shop.Shop.ContextAsync())
            Assert.Contains("ida@example.com", (await context.Outbox.SingleAsync()).Json, StringComparison.Ordinal);
        Assert.True((await ContactAsync(shop, new Contact("Ida Sandberg", "", "030 123456"), null)).IsOk);
        await using (var context = await shop.Shop.ContextAsync())
            Assert.Empty(await context.Outbox.ToListAsync());
    }

    [Fact]
    public async Task Contact_WantedDayThatIsOver_IsRefusedWhenItIsNewAndStaysWhenItIsNot()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(1) with { Wanted = new DateOnly(2026, 3, 4) });
        shop.Shop.Clock.Advance(TimeSpan.FromDays(2));
        var contact = new Contact("Ida Sandborg", "ida@example.org", "");
        Assert.Equal("date-past", Assert.Single((await ContactAsync(shop, contact, new DateOnly(2026, 3, 3))).Refusals).Code);
        Assert.True((await ContactAsync(shop, contact, new DateOnly(2026, 3, 4))).IsOk);
    }

    [Fact]
    public async Task Promise_AnotherDay_IsForTheEndOfItAndTheHonestDayStandsBeside()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(2));
        var (before, earliest) = (await shop.DetailAsync(), await shop.Get<EarliestView>().ForAsync(shop.Booked.Number));
        Assert.Equal(before.Local(before.PromisedAt), earliest!.At);

        var day = DateOnly.FromDateTime(before.Local(before.PromisedAt)).AddDays(7);
        var moved = await PromiseAsync(shop, day);

        Assert.True(moved.IsOk, moved.Refusals.FirstOrDefault()?.Text);
        var after = await shop.DetailAsync();
        Assert.Equal(before.Local(before.PromisedAt).AddDays(7), after.Local(after.PromisedAt));
        Assert.Equal("promise moved", Assert.Single(await shop.AuditAsync()).What);
        Assert.Equal(earliest, await shop.Get<EarliestView>().ForAsync(shop.Booked.Number));
    }

    [Theory]
    [InlineData("2026-03-03", "date-past")]
    [InlineData("2026-03-15", "day-closed")]
    [InlineData("2029-03-15", "date-far")]
    public async Task Promise_DayThatCannotBe_IsRefusedBesideItsField(string day, string code)
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(1));
        await using (var context = await shop.Shop.ContextAsync())
            if (code == "day-closed")
                await context.People.ExecuteUpdateAsync(p => p.SetProperty(x => x.IsActive, false));
        var refusal = Assert.Single((await PromiseAsync(shop, DateOnly.Parse(day, CultureInfo.InvariantCulture))).Refusals);
        Assert.Equal((code, "promise"), (refusal.Code, refusal.Field));
    }

    /// <summary>A day counts as long as those work who are there; when all are away nobody does.</summary>
    [Fact]
    public async Task Promise_DayOnWhichEverybodyIsAway_IsRefusedAndNoneIsRoundedUpToIt()
    {
        await using var shop = await ChangedShop.OpenAsync(ChangedShop.Plates(1));
        await using var context = await shop.Shop.ContextAsync();
        var people = await context.People.AsNoTracking().Where(p => p.IsActive).ToListAsync();
        var day = new DateOnly(2026, 3, 11);
        var now = shop.Shop.Clock.GetUtcNow();
        var settings = await CurrentSettings.LoadAsync(context, now, default);
        CurrentSettings Away(IEnumerable<Person> who) =>
            settings with
            {
                Absences = [.. who.Select(p => new Absence(p.Code, day, day, ""))],
            };
        var last = people.OrderBy(p => p.Shifts.Where(s => s.Day == day.DayOfWeek).Max(s => (TimeOnly?)s.NormalTo)).ToList();

        Assert.NotNull(PromiseRounding.CloseOf(day, people, settings));
        Assert.Null(PromiseRounding.CloseOf(day, people, Away(people)));
        Assert.Equal(PromiseRounding.CloseOf(day, [last[0]], settings), PromiseRounding.CloseOf(day, people, Away(last.Skip(1))));

        foreach (var person in people)
            Assert.True(
                (
                    await shop.Get<ChangeCalendar>()
                        .RunAsync(shop.Asked(), new CalendarChange(Away: new Absence(person.Code, day, day, "fair")))
                ).IsOk
            );
        Assert.Equal("day-closed", Assert.Single((await PromiseAsync(shop, day)).Refusals).Code);
    }

    private static async Task<Result<Done>> TextsAsync(ChangedShop shop, params string[] texts) =>
        await shop.Get<CorrectTexts>()
            .RunAsync(shop.Asked(), new TextsInput(shop.Booked.Order, (await shop.DetailAsync()).Version, 1, texts));

    private static async Task<Result<Done>> ContactAsync(ChangedShop shop, Contact contact, DateOnly? wanted) =>
        await shop.Get<ChangeContact>()
            .RunAsync(shop.Asked(), new ContactInput(shop.Booked.Order, (await shop.DetailAsync()).Version, contact, wanted));

    private static async Task<Result<DateTimeOffset>> PromiseAsync(ChangedShop shop, DateOnly day) =>
        await shop.Get<MovePromise>().RunAsync(shop.Asked(), new PromiseInput(shop.Booked.Order, (await shop.DetailAsync()).Version, day));
}
