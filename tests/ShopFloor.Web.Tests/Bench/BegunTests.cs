using Microsoft.EntityFrameworkCore;
using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Bench;
using ShopFloor.Web.Bench.Batches;
using ShopFloor.Web.Bench.Moves;

namespace ShopFloor.Web.Tests.Bench;

/// <summary>What was tapped where the line was away began when it was tapped, as far as that can be.</summary>
public sealed class BegunTests
{
    [Theory]
    [InlineData(420, 420, true)]
    [InlineData(420, 420, false)]
    [InlineData(700, 0, true)]
    [InlineData(-30, 0, true)]
    public async Task Load_TappedBefore_BeganThen(int secondsAgo, int counts, bool asBatch)
    {
        await using var shop = await BenchShop.OpenAsync(2);
        await shop.WorkToAsync(StepKind.Cure);
        var step = (await shop.PiecesAsync())[0].NextAttended!;
        var load = asBatch
            ? BenchShop.Must(await shop.Shop.Get<BuildBatch>().RunAsync(shop.Ask(), new BatchWish([shop.Code]))).Batch
            : null;
        shop.Wait(800);
        var tap = asBatch
            ? new Tap
            {
                Move = "startBatch",
                Code = load!,
                IsHot = true,
            }
            : new Tap
            {
                Move = "start",
                Code = shop.Code,
                Step = step.Number,
                IsHot = true,
            };
        var begun = BenchShop.Must(await TapAsync(shop, tap, secondsAgo));
        var at = shop.Shop.Clock.GetUtcNow().AddSeconds(-counts);
        await using var context = await shop.Shop.ContextAsync();
        Assert.Equal(at, (await context.Batches.SingleAsync(b => b.Code == begun.Batch)).StartedAt!.Value, TimeSpan.FromMilliseconds(2));
        Assert.All(await shop.PiecesAsync(), p => Assert.Equal(at, p.NextAttended!.StartedAt!.Value, TimeSpan.FromMilliseconds(2)));
    }

    [Theory]
    [InlineData("start")]
    [InlineData("finish")]
    public async Task Handwork_TappedBefore_BeganThenButNotBeforeTheStepBeforeItEnded(string move)
    {
        await using var shop = await BenchShop.OpenAsync(1, own: true);
        await shop.WorkToAsync(StepKind.Wipe);
        var wipe = (await shop.PiecesAsync())[0].NextAttended!;
        shop.Wait(300);
        var ended = shop.Shop.Clock.GetUtcNow().AddSeconds(-200);
        BenchShop.Must(await TapAsync(shop, Tap(move, shop, wipe.Number), 200));
        Assert.Equal(ended, Item(await shop.PiecesAsync(), wipe.Number).StartedAt!.Value, TimeSpan.FromMilliseconds(2));
        if (move == "start")
            return;
        Assert.Equal(ended, Item(await shop.PiecesAsync(), wipe.Number).FinishedAt!.Value, TimeSpan.FromMilliseconds(2));
        BenchShop.Must(await TapAsync(shop, Tap("start", shop, wipe.Number + 1), 250));
        Assert.Equal(shop.Shop.Clock.GetUtcNow(), (await shop.PiecesAsync())[0].NextAttended!.StartedAt);
    }

    [Fact]
    public void Instant_TheBatchBeforeEndedLater_IsNow()
    {
        var now = DateTimeOffset.UnixEpoch.AddDays(1);
        Assert.Equal(now.AddMinutes(-5), Begun.Instant(now.AddMinutes(-5), now, [], null));
        Assert.Equal(now.AddMinutes(-5), Begun.Instant(now.AddMinutes(-5), now, [], Ended(now.AddMinutes(-6))));
        Assert.Equal(now, Begun.Instant(now.AddMinutes(-5), now, [], Ended(now.AddMinutes(-3))));
        Assert.Equal(now, Begun.Instant(null, now, []));
    }

    private static Batch Ended(DateTimeOffset at)
    {
        var station = new StationId(Guid.CreateVersion7());
        var batch = new Batch(new BatchId(Guid.CreateVersion7()), BatchKind.OvenLoad, "L-1", station, new BatchSettings(), at);
        Assert.True(batch.Arrange([new BatchPlace(new PieceId(Guid.CreateVersion7()), 1, 1, 0, 0, false)], new BatchSettings()).IsOk);
        Assert.True(batch.Start(at.AddHours(-1)).IsOk);
        Assert.True(batch.Finish(at, null, null).IsOk);
        return batch;
    }

    private static WorkItem Item(IReadOnlyList<Piece> pieces, int step) => pieces[0].Items.First(i => i.Number == step);

    private static Tap Tap(string move, BenchShop shop, int step) =>
        new()
        {
            Move = move,
            Code = shop.Code,
            Step = step,
        };

    private static Task<Result<Moved>> TapAsync(BenchShop shop, Tap tap, int secondsAgo) =>
        shop
            .Shop.Get<BenchMoves>()
            .RunAsync(
                shop.Ask(),
                tap with
                {
                    TappedAt = shop.Shop.Clock.GetUtcNow().AddSeconds(-secondsAgo).ToUnixTimeMilliseconds(),
                },
                default
            );
}
