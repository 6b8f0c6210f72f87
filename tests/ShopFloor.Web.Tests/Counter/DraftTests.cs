using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Counter;

public sealed class DraftTests
{
    [Fact]
    public async Task Keep_WhatWasTyped_IsThereWhenOpenedAgain()
    {
        await using var shop = await TestShop.EmptyAsync();
        var (device, draft) = await BeginAsync(shop);
        var kept = await KeepAsync(shop, device, draft, 0, new OrderEntry { Name = "Ada" }, CounterStep.You);
        Assert.Equal(1, kept.Value);
        var opened = await shop.Get<OpenDraft>().RunAsync(device, draft);
        Assert.Equal("Ada", opened.Value.Kept.Entry.Name);
        Assert.Equal(CounterStep.You, opened.Value.Step);
    }

    [Fact]
    public async Task Keep_FromAnotherScreen_NeverChangesTheCommandThatBooks()
    {
        await using var shop = await TestShop.EmptyAsync();
        var (device, draft) = await BeginAsync(shop);
        var command = (await shop.Get<OpenDraft>().RunAsync(device, draft)).Value.Kept.Entry.BookCommand;
        await KeepAsync(shop, device, draft, 0, new OrderEntry { BookCommand = Guid.CreateVersion7() }, CounterStep.You);
        Assert.Equal(command, (await shop.Get<OpenDraft>().RunAsync(device, draft)).Value.Kept.Entry.BookCommand);
    }

    [Fact]
    public async Task Keep_TwoWindows_TheSecondIsToldAndNothingIsOverwritten()
    {
        await using var shop = await TestShop.EmptyAsync();
        var (device, draft) = await BeginAsync(shop);
        await KeepAsync(shop, device, draft, 0, new OrderEntry { Name = "first" }, CounterStep.You);
        var second = await KeepAsync(shop, device, draft, 0, new OrderEntry { Name = "second" }, CounterStep.You);
        Assert.Equal("draft-elsewhere", second.Refusals[0].Code);
        Assert.Equal("first", (await shop.Get<OpenDraft>().RunAsync(device, draft)).Value.Kept.Entry.Name);
    }

    [Fact]
    public async Task Open_AnotherDevicesDraft_IsRefusedLikeOneThatIsNot()
    {
        await using var shop = await TestShop.EmptyAsync();
        var (_, draft) = await BeginAsync(shop);
        var other = await shop.WorkerAsync(WorkerRole.Counter);
        var refused = await shop.Get<OpenDraft>().RunAsync(other, draft);
        var missing = await shop.Get<OpenDraft>().RunAsync(other, Guid.CreateVersion7());
        Assert.Equal(missing.Refusals, refused.Refusals);
        var clerk = await shop.WorkerAsync(WorkerRole.Bench);
        Assert.True((await shop.Get<OpenDraft>().RunAsync(clerk, draft)).IsOk);
    }

    [Fact]
    public async Task Wipe_ADraft_NobodySeesItAndItTakesNoMore()
    {
        await using var shop = await TestShop.EmptyAsync();
        var (device, draft) = await BeginAsync(shop);
        Assert.True((await shop.Get<WipeDraft>().RunAsync(Asked.By(device), draft)).IsOk);
        Assert.True((await shop.Get<WipeDraft>().RunAsync(Asked.By(device), draft)).IsOk);
        Assert.Equal("draft-gone", (await shop.Get<OpenDraft>().RunAsync(device, draft)).Refusals[0].Code);
        Assert.False((await KeepAsync(shop, device, draft, 0, new OrderEntry(), CounterStep.You)).IsOk);
    }

    [Fact]
    public async Task Keeper_AChange_IsKeptWithinASecond()
    {
        await using var shop = await TestShop.EmptyAsync();
        var (device, draft) = await BeginAsync(shop);
        var opened = await shop.Get<OpenDraft>().RunAsync(device, draft);
        List<KeepDraftInput> sent = [];
        Task<Result<int>> Keep(KeepDraftInput input)
        {
            sent.Add(input);
            return Task.FromResult(Result<int>.Ok(sent.Count));
        }
        using var keeper = new DraftKeeper(draft, opened.Value, Keep, work => work(), shop.Clock);
        keeper.Change(e => e with { Name = "A" });
        keeper.Change(e => e with { Name = "Ad" });
        Assert.Empty(sent);
        // A text field reports 0.4 s after the last key; both together stay under a second.
        shop.Clock.Advance(TimeSpan.FromMilliseconds(600));
        Assert.Equal(["Ad"], sent.Select(s => s.Entry.Name));
        keeper.Change(e => e with { Name = "Ada" });
        await keeper.GoAsync(CounterStep.Check);
        Assert.Equal([0, 1], sent.Select(s => s.SeenEdit));
        Assert.Equal(CounterStep.Check, sent[^1].Step);
    }

    [Fact]
    public async Task Keeper_WhenKeepingFails_SaysSoAndKeepsLater()
    {
        await using var shop = await TestShop.EmptyAsync();
        var (device, draft) = await BeginAsync(shop);
        var opened = await shop.Get<OpenDraft>().RunAsync(device, draft);
        var full = true;
        Task<Result<int>> Keep(KeepDraftInput input) =>
            Task.FromResult(full ? new Refusal("disk-full", "The disk is full.") : Result<int>.Ok(1));
        using var keeper = new DraftKeeper(draft, opened.Value, Keep, work => work(), shop.Clock);
        keeper.Change(e => e with { Name = "Ada" });
        await keeper.FlushAsync();
        Assert.Equal("disk-full", keeper.Trouble?.Code);
        full = false;
        await keeper.FlushAsync();
        Assert.Null(keeper.Trouble);
        Assert.Equal("Ada", keeper.Entry.Name);
    }

    [Fact]
    public async Task Keeper_WhenKeepingBreaksOff_SaysSoAndTriesAgainByItself()
    {
        await using var shop = await TestShop.EmptyAsync();
        var (device, draft) = await BeginAsync(shop);
        var opened = await shop.Get<OpenDraft>().RunAsync(device, draft);
        List<KeepDraftInput> sent = [];
        List<Exception> faults = [];
        Task<Result<int>> Keep(KeepDraftInput input)
        {
            sent.Add(input);
            return sent.Count == 1 ? throw new TimeoutException("The disk sleeps.") : Task.FromResult(Result<int>.Ok(1));
        }
        using var keeper = new DraftKeeper(draft, opened.Value, Keep, work => work(), shop.Clock, faults.Add);
        keeper.Change(e => e with { Name = "Ada" });
        await keeper.FlushAsync();
        Assert.Equal("not-kept", keeper.Trouble?.Code);
        Assert.IsType<TimeoutException>(Assert.Single(faults));
        shop.Clock.Advance(DraftKeeper.Again);
        Assert.Null(keeper.Trouble);
        Assert.Equal(["Ada", "Ada"], sent.Select(s => s.Entry.Name));
        await keeper.FlushAsync();
        Assert.Equal(2, sent.Count);
    }

    private static async Task<(Guid Device, Guid Draft)> BeginAsync(TestShop shop)
    {
        var device = await shop.WorkerAsync(WorkerRole.Counter);
        var begun = await shop.Get<BeginDraft>().RunAsync(Asked.By(device), new OrderEntry(), CounterStep.Piece);
        return (device, begun.Value);
    }

    private static Task<Result<int>> KeepAsync(TestShop shop, Guid by, Guid draft, int seen, OrderEntry entry, CounterStep step) =>
        shop.Get<KeepDraft>().RunAsync(Asked.By(by), new KeepDraftInput(draft, seen, entry, step, []));
}
