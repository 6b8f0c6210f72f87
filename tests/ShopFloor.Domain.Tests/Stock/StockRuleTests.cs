using ShopFloor.Domain.Film;
using ShopFloor.Domain.Stock;

namespace ShopFloor.Domain.Tests.Stock;

public sealed class StockRuleTests
{
    private static readonly DateTimeOffset At = new(2026, 3, 4, 9, 0, 0, TimeSpan.Zero);
    private static readonly DateOnly Today = new(2026, 3, 4);

    [Fact]
    public void FirstExpiring_SeveralUsable_NearestLastDayWins()
    {
        var late = Of("late", 400, Today.AddDays(90));
        var soon = Of("soon", 400, Today.AddDays(20));
        var none = Of("none", 400, null);
        Assert.Equal("soon", Can.FirstExpiring([late, none, soon], 10, Today)!.Code);
        Assert.Equal("late", Can.FirstExpiring([late, none], 10, Today)!.Code);
    }

    [Fact]
    public void FirstExpiring_BarredExpiredEmptyOrTooLittle_AreNotTaken()
    {
        var barred = Of("barred", 400, Today.AddDays(1));
        barred.Hold("leaks");
        var expired = Of("expired", 400, Today.AddDays(-1));
        var empty = Of("empty", 400, Today.AddDays(2));
        _ = empty.Weigh(0);
        var little = Of("little", 5, Today.AddDays(3));
        var good = Of("good", 400, Today.AddDays(30));
        Assert.Equal("good", Can.FirstExpiring([barred, expired, empty, little, good], 10, Today)!.Code);
        Assert.Equal("little", Can.FirstExpiring([barred, expired, empty, little], 10, Today)!.Code);
        Assert.Null(Can.FirstExpiring([barred, expired, empty], 10, Today));
    }

    [Fact]
    public void FirstExpiring_LastDayItself_MayBeUsed() =>
        Assert.Equal("today", Can.FirstExpiring([Of("today", 400, Today)], 10, Today)!.Code);

    [Fact]
    public void FirstExpiring_SameDay_OpenOneFirst()
    {
        var full = Of("a", 400, Today);
        var open = Of("b", 400, Today);
        _ = open.Take(30, At);
        Assert.Equal("b", Can.FirstExpiring([full, open], 10, Today)!.Code);
    }

    // By hand: (200 g − 92 g) ÷ 0.72 g/ml = 150 ml.
    [Fact]
    public void LeftMillilitres_WeighedCan_IsMassOverDensity() =>
        Assert.Equal(150, CanContent.LeftMillilitres(200, 92, 0.72, 400).Value.Value, 9);

    [Theory]
    [InlineData(80, "lighter-than-empty")]
    [InlineData(600, "heavier-than-full")]
    public void LeftMillilitres_ImpossibleWeight_IsRefusedAtTheField(double gross, string code)
    {
        var refusal = Assert.Single(CanContent.LeftMillilitres(gross, 92, 0.72, 400).Refusals);
        Assert.Equal((code, "gross"), (refusal.Code, refusal.Field));
    }

    // Reorder point = demand in lead time + safety stock: 10 a day · 7 days + 30 = 100 (inventory text books, from memory).
    [Theory]
    [InlineData(101, false)]
    [InlineData(100, true)]
    [InlineData(40, true)]
    public void Judge_AtTheReorderPoint_Orders(int onHand, bool order) =>
        Assert.Equal(order, Reorder.Judge(new StockOutlook(onHand, 0, 0, 30, 7, 10)).OrderNow);

    [Fact]
    public void Judge_BookedWorkTakesMore_ItCountsInsteadOfThePace()
    {
        var advice = Reorder.Judge(new StockOutlook(50, 60, 80, 10, 5, 1));
        Assert.True(advice.OrderNow && advice.Missing);
        Assert.Equal(-10, advice.LeftAtDelivery);
        // All booked work, the safety stock and one delivery time more.
        Assert.Equal(10 + 80 + 5 - 50, advice.Suggested);
    }

    [Fact]
    public void Judge_NothingUsedNothingWanted_IsLeftAlone()
    {
        var advice = Reorder.Judge(new StockOutlook(0, 0, 0, 0, 5, 0));
        Assert.False(advice.OrderNow);
        Assert.Null(advice.DaysLeft);
    }

    // After what is suggested has come, the same booked work must not ask for more.
    [Fact]
    public void Judge_AfterOrderingWhatIsSuggested_IsContent()
    {
        for (var seed = 0; seed < 500; seed++)
        {
            var random = new Random(seed);
            var all = random.Next(0, 500);
            var o = new StockOutlook(
                random.Next(-20, 300),
                random.Next(0, all + 1),
                all,
                random.Next(0, 80),
                random.Next(0, 20),
                random.Next(1, 9)
            );
            var advice = Reorder.Judge(o);
            if (!advice.OrderNow || advice.Suggested == 0)
                continue;
            var after = Reorder.Judge(o with { OnHand = o.OnHand + advice.Suggested + 1 });
            Assert.False(after.OrderNow || after.Missing, $"seed {seed}");
        }
    }

    [Fact]
    public void SafetySheet_NoPdf_IsRefused()
    {
        Domain.Result<SafetySheet> Of(byte[] bytes) => SafetySheet.Create(default, (default, "L1"), "x.pdf", bytes, (At, "w"));
        Assert.True(Of("%PDF-1.7 … %%EOF\n"u8.ToArray()).IsOk);
        Assert.Equal("file-no-pdf", Assert.Single(Of("<html>%PDF-</html>"u8.ToArray()).Refusals).Code);
        Assert.Equal("file-no-pdf", Assert.Single(Of("%PDF-1.7 cut off"u8.ToArray()).Refusals).Code);
        Assert.Equal("file-large", Assert.Single(Of(new byte[SafetySheet.MostBytes + 1]).Refusals).Code);
    }

    private static Can Of(string code, decimal ml, DateOnly? useBy) => new(default, default, code, "L", ml, useBy, At);
}
