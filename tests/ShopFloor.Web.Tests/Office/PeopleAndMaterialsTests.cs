using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Stations;
using ShopFloor.Web.Background.Plans;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Materials;
using ShopFloor.Web.Office.People;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Hours and materials as the owner sets them are what plans and verdicts use.</summary>
public sealed class PeopleAndMaterialsTests
{
    [Fact]
    public async Task Person_WeekTyped_IsReadBackAsTyped()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        var row = (await bench.Shop.Get<PeopleView>().LoadAsync()).People.Single(p => p.Code == "ada");
        var form = new PersonForm(row);
        var monday = form.Days[0];
        (monday.From, monday.To, monday.From2, monday.To2, monday.Overtime) = ("08:00", "12:00", "13:00", "16:30", "18:00");
        Assert.True((await bench.Shop.Get<KeepPerson>().RunAsync(Asked.By(owner), form.Read().Value)).IsOk);

        var after = (await bench.Shop.Get<PeopleView>().LoadAsync()).People.Single(p => p.Code == "ada");
        Shift[] wanted =
        [
            new(DayOfWeek.Monday, new(8, 0), new(12, 0), new(12, 0)),
            new(DayOfWeek.Monday, new(13, 0), new(16, 30), new(18, 0)),
        ];
        Assert.Equal(wanted, after.Shifts.Where(s => s.Day == DayOfWeek.Monday));
        Assert.Equal("18:00", new PersonForm(after).Days[0].Overtime);
        var second = await bench.Shop.Get<KeepPerson>().RunAsync(Asked.By(owner), form.Read().Value);
        Assert.Equal("changed-meanwhile", Assert.Single(second.Refusals).Code);
    }

    [Theory]
    [InlineData("16:00", "08:00", "shift-order")]
    [InlineData("08:00", "", "time")]
    public async Task Person_ImpossibleShift_IsRefused(string from, string to, string code)
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        var form = new PersonForm(null) { Code = "cleo", Name = "Cleo" };
        (form.Days[0].From, form.Days[0].To) = (from, to);
        var input = form.Read();
        var refusals = input.IsOk ? (await bench.Shop.Get<KeepPerson>().RunAsync(Asked.By(owner), input.Value)).Refusals : input.Refusals;
        var refusal = Assert.Single(refusals);
        Assert.Equal((code, "shifts"), (refusal.Code, refusal.Field));
        Assert.DoesNotContain((await bench.Shop.Get<PeopleView>().LoadAsync()).People, p => p.Code == "cleo");
    }

    [Fact]
    public async Task Absence_Entered_ThePlansDayHasNoShiftThen()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        const int Week = 7 * 86_400;
        async Task<int> SecondsAsync()
        {
            await using var context = await bench.Shop.ContextAsync();
            var snapshot = await ShopSnapshot.ReadAsync(context, bench.Shop.Clock.GetUtcNow(), default);
            return DayTimes.Shifts(snapshot.People.Single(p => p.Code == "ada"), snapshot, Week).Sum(s => s.ToS - s.FromS);
        }
        var before = await SecondsAsync();
        var tomorrow = (await bench.Shop.Get<PeopleView>().LoadAsync()).Today.AddDays(1);
        var away = new Absence("ada", tomorrow, tomorrow.AddDays(1), "holiday");
        Assert.True((await bench.Shop.Get<ChangeCalendar>().RunAsync(Asked.By(owner), new CalendarChange(Away: away))).IsOk);
        Assert.Equal(before - 2 * 10 * 3600, await SecondsAsync());
        Assert.True((await bench.Shop.Get<ChangeCalendar>().RunAsync(Asked.By(owner), new CalendarChange(Back: away))).IsOk);
        Assert.Equal(before, await SecondsAsync());
    }

    [Fact]
    public async Task Calendar_WrongDays_AreNamedAtTheirFields()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        var today = (await bench.Shop.Get<PeopleView>().LoadAsync()).Today;
        async Task<string?> FieldAsync(CalendarChange change) =>
            (await bench.Shop.Get<ChangeCalendar>().RunAsync(Asked.By(owner), change)).Refusals.Select(r => r.Field).FirstOrDefault();
        Assert.Equal("closedFrom", await FieldAsync(new CalendarChange(new ClosedDay(today.AddDays(-1), "x"))));
        Assert.Equal("closedTo", await FieldAsync(new CalendarChange(new ClosedDay(today, "x"), today.AddDays(-1))));
        Assert.Equal("closedWhy", await FieldAsync(new CalendarChange(new ClosedDay(today, " "))));
        Assert.Equal("person", await FieldAsync(new CalendarChange(Away: new Absence("nobody", today, today, ""))));
        Assert.Equal("to", await FieldAsync(new CalendarChange(Away: new Absence("ada", today, today.AddDays(-1), ""))));
    }

    [Fact]
    public async Task Material_LimitLowered_TheCounterRefusesAndTheShippedRowComesBack()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        async Task<Verdict> VerdictAsync()
        {
            await using var reading = await bench.Shop.ContextAsync();
            bench.Wait(1);
            var facts = await ShopFacts.LoadAsync(reading, bench.Shop.Clock.GetUtcNow(), default);
            return JudgeLine.Of(ShopOrders.Plates(1).Lines[0], facts, false, null).Quote.Verdict;
        }
        var sheet = (await bench.Shop.Get<SettingsView>().LoadAsync()).Materials["al"];
        Assert.Equal(Verdict.Take, await VerdictAsync());
        var form = new MaterialForm(sheet);
        (form.Press.Limit, form.Press.Beyond, form.LimitSource) = ("120", Verdict.Refuse, "own experience, no source");
        Assert.True((await bench.Shop.Get<KeepMaterial>().RunAsync(Asked.By(owner), form.Read().Value)).IsOk);
        Assert.Equal(Verdict.Refuse, await VerdictAsync());

        var now = (await bench.Shop.Get<SettingsView>().LoadAsync()).Materials["al"];
        Assert.Equal((sheet.Thermal, sheet.ThermalSource), (now.Thermal, now.ThermalSource));
        Assert.True((await bench.Shop.Get<KeepMaterial>().RunAsync(Asked.By(owner), new MaterialInput(sheet, now))).IsOk);
        Assert.Equal(Verdict.Take, await VerdictAsync());
        await using var context = await bench.Shop.ContextAsync();
        Assert.Equal(2, await context.Audit.CountAsync(a => a.Subject == "material:al"));
    }

    [Fact]
    public async Task Material_WithoutSourceOrReason_IsRefusedAtTheFields()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        var form = new MaterialForm(null) { Key = "Bad Key", Name = "Horn" };
        (form.Cure.Within, form.Cure.Beyond) = (Verdict.Refuse, Verdict.Take);
        var done = await bench.Shop.Get<KeepMaterial>().RunAsync(Asked.By(owner), form.Read().Value);
        Assert.Equal(
            ["cure-beyond", "cure-reason", "key", "limitSource", "press-reason"],
            done.Refusals.Select(r => r.Field).Order(StringComparer.Ordinal)
        );
        form.Cure.Limit = "warm";
        Assert.Equal("cure-limit", Assert.Single(form.Read().Refusals).Field);
    }

    [Fact]
    public void ShippedMaterials_EveryRow_PassesItsOwnCheck() =>
        Assert.All(ShippedMaterials.All, m => Assert.Empty(m.Faults().Select(f => $"{m.Key}: {f.Field} {f.Text}")));
}
