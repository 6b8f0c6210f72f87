using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain.Calls;
using ShopFloor.Web.Bench.Calls;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Wall.Calls;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>Calls on the real database: written down once, answered once, put off with a return, no repeat within the hysteresis.</summary>
public sealed class CallAnswerTests
{
    private static readonly ActiveCall Oven = new("over L-1 5", "over", "L-1", "over: oven-1", 1);
    private static readonly ActiveCall Late = new("late 6 7", "late", "", "promises", 4);

    [Fact]
    public async Task Note_TheSameCauseTwice_IsOneCallAndClearedWhenGone()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await NoteAsync(shop, Oven, Late);
        await NoteAsync(shop, Oven, Late);
        await NoteAsync(shop, Late);
        var calls = await CallsAsync(shop);
        Assert.Equal(2, calls.Count);
        Assert.Equal("over L-1 5", Assert.Single(calls, c => c.ClearedAt is not null).Key);
    }

    [Fact]
    public async Task Note_CauseBackWithinTwoMinutes_IsTheSameCallStillSeen()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await NoteAsync(shop, Oven);
        BenchShop.Must(await AnswerAsync(shop, new CallAnswer("L-1")));
        await NoteAsync(shop);
        shop.Wait(90);
        await NoteAsync(shop, Oven);
        var call = Assert.Single(await CallsAsync(shop));
        Assert.Equal(CallState.Seen, call.StateAt(shop.Shop.Clock.GetUtcNow()));
        await NoteAsync(shop);
        shop.Wait(121);
        await NoteAsync(shop, Oven);
        Assert.Equal(2, (await CallsAsync(shop)).Count);
    }

    [Fact]
    public async Task Answer_ScanOfTheBatch_SeesItAndIsInTheAudit()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await NoteAsync(shop, Oven);
        BenchShop.Must(await AnswerAsync(shop, new CallAnswer(" l-1 ")));
        await using var context = await shop.Shop.ContextAsync();
        Assert.Single(await context.Audit.Where(a => a.What == "call seen").ToListAsync());
        Assert.Equal("no-call", BenchShop.Code0(await AnswerAsync(shop, new CallAnswer("L-2"))));
    }

    [Fact]
    public async Task Answer_PutOff_ComesBackByItself()
    {
        await using var shop = await BenchShop.OpenAsync(1);
        await NoteAsync(shop, Late);
        var id = (await CallsAsync(shop))[0].Id.ToString();
        Assert.Equal("reason-missing", BenchShop.Code0(await AnswerAsync(shop, new CallAnswer(id, 60))));
        BenchShop.Must(await AnswerAsync(shop, new CallAnswer(id, 60, "Customer is asked")));
        shop.Wait(3599);
        Assert.Equal(CallState.PutOff, (await CallsAsync(shop))[0].StateAt(shop.Shop.Clock.GetUtcNow()));
        shop.Wait(1);
        Assert.Equal(CallState.Open, (await CallsAsync(shop))[0].StateAt(shop.Shop.Clock.GetUtcNow()));
    }

    private static async Task NoteAsync(BenchShop shop, params ActiveCall[] active) =>
        Assert.True((await shop.Shop.Get<NoteCalls>().RunAsync(Asked.BySystem(), active)).IsOk);

    private static Task<ShopFloor.Domain.Result<ShopFloor.Web.Bench.Moves.Moved>> AnswerAsync(BenchShop shop, CallAnswer answer) =>
        shop.Shop.Get<AnswerCall>().RunAsync(shop.Ask(), answer);

    private static async Task<IReadOnlyList<Call>> CallsAsync(BenchShop shop)
    {
        await using var context = await shop.Shop.ContextAsync();
        return await context.Calls.AsNoTracking().OrderBy(c => c.RaisedAt).ToListAsync();
    }
}
