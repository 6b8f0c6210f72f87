using System.Text.Json;
using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using ShopFloor.Data;
using ShopFloor.Data.Records;
using ShopFloor.Domain.Recipes;
using ShopFloor.Domain.Stations;
using ShopFloor.Domain.Yield;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Office.Recipes;
using ShopFloor.Web.Office.Stations;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Recipes gain, lose and move steps, and are copied for other materials.</summary>
public sealed class RecipePagesTests : IAsyncLifetime
{
    private readonly BunitContext page = new();
    private BenchShop bench = null!;
    private Guid owner;

    private string Uri => page.Services.GetRequiredService<NavigationManager>().Uri;

    public async Task InitializeAsync()
    {
        bench = await BenchShop.OpenAsync(1, finish: Finish.ShowThrough);
        owner = await bench.Shop.WorkerAsync(WorkerRole.Owner);
        page.JSInterop.Mode = JSRuntimeMode.Loose;
        page.Services.AddLocalization();
        page.Services.AddSingleton<TimeProvider>(bench.Shop.Clock);
        page.Services.AddSingleton(bench.Shop.Get<RecipeListView>());
        page.Services.AddSingleton(bench.Shop.Get<PlannedTimes>());
        page.Services.AddSingleton(bench.Shop.Get<ChangeRecipe>());
        page.Services.AddSingleton(bench.Shop.Get<CopyRecipe>());
    }

    public async Task DisposeAsync()
    {
        await page.DisposeAsync();
        await bench.DisposeAsync();
    }

    [Fact]
    public async Task Page_SecondClearCoatWithItsFlashOffAdded_IsTheNextVersionAndPiecesInWorkKeepTheirs()
    {
        var open = await OpenAsync<OneRecipePage>("Show-through");
        await open.Find("#step-3").ChangeAsync("47");
        await AddAsync(open, 4, "Spray clear");
        await AddAsync(open, 5, "Flash-off");
        Assert.Equal("47", open.Find("#step-3").GetAttribute("value"));
        await open.Find("form").SubmitAsync();

        open.WaitForAssertion(() => Assert.EndsWith("office/recipes", Uri, StringComparison.Ordinal));
        var made = (await bench.Shop.Get<RecipeListView>().LoadAsync()).First(r => r.Name == "Show-through");
        Assert.Equal((2, 13), (made.Version, made.Steps.Count));
        Assert.Equal([(CoatingKind?)CoatingKind.Clear, null, CoatingKind.Clear], made.Steps.Skip(2).Take(3).Select(s => s.Coating));
        Assert.Equal(47, made.Steps[2].LengthSeconds);
        Assert.Equal(11, (await bench.PieceAsync(bench.Code)).Items.Count);
    }

    [Fact]
    public async Task Page_FlashOffTakenOut_SaysSoBesideTheStepAndIsNotSaved()
    {
        var open = await OpenAsync<OneRecipePage>("Show-through");
        await PressAsync(open, 4, "Take out");
        Assert.Contains("still wet", open.Find($"#{RecipeOrder.Place(4)}").TextContent, StringComparison.Ordinal);
        await open.Find("form").SubmitAsync();
        open.WaitForAssertion(() => Assert.Equal(RecipeOrder.Place(4), open.Find(".faults a").GetAttribute("data-field")));
        Assert.All(await bench.Shop.Get<RecipeListView>().LoadAsync(), r => Assert.Equal(1, r.Version));

        await open.FindAll("button").First(b => b.TextContent.Contains("Put Flash-off back", StringComparison.Ordinal)).ClickAsync();
        Assert.Empty(open.FindAll(".faults a"));
        Assert.Equal("4 Flash-off", open.Find("#name-4").TextContent);
    }

    [Fact]
    public async Task Page_WhatAStepSays_IsChangedCheckedAndKeptWithTheStepWhereverItGoes()
    {
        var open = await OpenAsync<OneRecipePage>("Show-through");
        var press = (await bench.Shop.Get<RecipeListView>().LoadAsync())
            .First(r => r.Name == "Show-through")
            .Steps.First(s => s.Kind == StepKind.Press);
        string At(string part, int by = 0) => $"#step-{press.Number + by}-{part}";
        await open.Find(At("layUp")).ChangeAsync("print up");
        await open.Find("form").SubmitAsync();
        open.WaitForAssertion(() => Assert.Equal(At("layUp")[1..], open.Find(".faults a").GetAttribute("data-field")));

        await open.Find(At("layUp")).ChangeAsync("print above, felt below the piece");
        await open.Find(At("layUp")).ChangeAsync("print above, on felt");
        await open.Find(At("pressure")).ChangeAsync("2");
        await open.Find(At("peel")).ChangeAsync("1");
        await PressAsync(open, 1, "Take out");
        await open.Find(At("note", -1)).ChangeAsync("Two sheets of felt.");
        await open.FindAll("button").First(b => b.TextContent.Contains("Put Clean back", StringComparison.Ordinal)).ClickAsync();
        Assert.Equal("Two sheets of felt.", open.Find(At("note")).GetAttribute("value"));
        await open.Find("#reference-material").ChangeAsync(Place(open, "Slate"));
        await open.Find("#reference-thickness").ChangeAsync("6");
        bench.Shop.Clock.Advance(TimeSpan.FromSeconds(5));
        await open.Find("form").SubmitAsync();

        open.WaitForAssertion(() => Assert.EndsWith("office/recipes", Uri, StringComparison.Ordinal));
        var made = (await bench.Shop.Get<RecipeListView>().LoadAsync()).First(r => r.Name == "Show-through");
        var step = made.Steps[press.Number - 1];
        Assert.Equal((2, "print above, on felt", "heavy", "Two sheets of felt."), (made.Version, step.LayUp, step.Pressure, step.Note));
        Assert.Equal("cold", step.Peel);
        Assert.Equal(("slate", 6m), (made.Reference.Material, made.Reference.Thickness.Millimetres));
        Assert.Equal("medium", (await bench.PieceAsync(bench.Code)).Items.First(i => i.Kind == StepKind.Press).Settings.Pressure);
    }

    [Theory]
    [InlineData(StepKind.Cure, "heat", "45", "from 60 to 300 °C")]
    [InlineData(StepKind.Press, "heat", "90", "from 100 to 260 °C")]
    [InlineData(StepKind.Rest, "cool", "21", "nothing gets colder than its room")]
    public async Task Page_TemperatureAtWhichNothingCouldBeBooked_IsSaidAtItsFieldAndNotSaved(
        StepKind kind,
        string part,
        string typed,
        string why
    )
    {
        await ReachAllAsync();
        var open = await OpenAsync<OneRecipePage>("Show-through");
        var step = (await bench.Shop.Get<RecipeListView>().LoadAsync())
            .First(r => r.Name == "Show-through")
            .Steps.First(s => s.Kind == kind && (kind != StepKind.Rest || s.CoolToCelsius is not null));
        var field = $"step-{step.Number}-{part}";
        await open.Find($"#{field}").ChangeAsync(typed);
        await open.Find("form").SubmitAsync();

        open.WaitForAssertion(() => Assert.Equal(field, open.Find(".faults a").GetAttribute("data-field")));
        Assert.Contains(why, open.Find(".faults").TextContent, StringComparison.Ordinal);
        Assert.All(await bench.Shop.Get<RecipeListView>().LoadAsync(), r => Assert.Equal(1, r.Version));
    }

    // Stations that hold any heat: what is said then is not of them.
    private async Task ReachAllAsync()
    {
        foreach (var row in await bench.Shop.Get<StationListView>().LoadAsync())
        {
            StationSettings wide = row.Settings switch
            {
                OvenSettings oven => oven with { LowestCelsius = 20 },
                PressSettings press => press with { LowestCelsius = 20 },
                var other => other,
            };
            var changed = await bench
                .Shop.Get<ChangeStation>()
                .RunAsync(Asked.By(owner), new StationInput(row.Id, row.Version, row.Name, wide, null, row.InUse));
            Assert.True(changed.IsOk, string.Join(' ', changed.Refusals.Select(r => r.Text)));
        }
    }

    [Theory]
    [InlineData("slate", 0, "reference-thickness")]
    [InlineData("slate", 101, "reference-thickness")]
    [InlineData("cheese", 2, "reference-material")]
    public async Task Reference_ThatCannotBe_IsRefusedForBothWaysToARecipe(string material, int millimetres, string code)
    {
        var from = (await bench.Shop.Get<RecipeListView>().LoadAsync()).First(r => r.Name == "Show-through");
        var reference = new RecipeReference(material, Domain.Quantities.Length.FromMillimetres(millimetres));
        var copied = await bench
            .Shop.Get<CopyRecipe>()
            .RunAsync(Asked.By(owner), new CopyInput(from.Id, "On stone", from.Finish, "stone", from.Steps, reference));
        var changed = await bench.Shop.Get<ChangeRecipe>().RunAsync(Asked.By(owner), new RecipeInput(from.Id, from.Steps, reference));
        Assert.Equal((code, code), (Assert.Single(copied.Refusals).Code, Assert.Single(changed.Refusals).Code));
    }

    [Fact]
    public async Task Page_StepMoved_StandsThereAndTheEndsCannotGoFurther()
    {
        var open = await OpenAsync<OneRecipePage>("Show-through");
        await PressAsync(open, 2, "Move up");
        Assert.Equal(["1 Wipe", "2 Clean"], open.FindAll(".step-row > strong").Take(2).Select(s => s.TextContent));
        Assert.True(Button(open, 1, "Move up").HasAttribute("disabled"));
        Assert.True(Button(open, 11, "Move down").HasAttribute("disabled"));
    }

    [Fact]
    public async Task Page_MeasuredTimeInPlans_IsSaidBesideTheFieldWhileItIsUsed()
    {
        var measured = new MeasuredShop { Steps = [new(Finish.ShowThrough, StepKind.Spray, 41.7m, 12, 1)] };
        await using (var context = await bench.Shop.ContextAsync())
        {
            var json = JsonSerializer.Serialize(measured, JsonForms.Default);
            context.Settings.Add(
                new DatedSetting(Guid.CreateVersion7(), SettingKeys.Measured, bench.Shop.Clock.GetUtcNow(), json, "night")
            );
            await context.SaveChangesAsync();
        }
        var open = await OpenAsync<OneRecipePage>("Show-through");
        Assert.Equal("Planned with the measured 42 s, from 12 pieces.", open.Find("#step-3-hint").TextContent);
        Assert.Empty(open.FindAll("#step-1-hint"));
    }

    [Fact]
    public async Task Copy_ForAKindOfMaterialWithoutOne_IsUsedForIt()
    {
        var open = await OpenAsync<CopyRecipePage>("Show-through");
        await open.Find("form").SubmitAsync();
        Assert.Equal("group", open.Find(".faults a").GetAttribute("data-field"));
        await open.Find("#name").ChangeAsync("Show-through on slate");
        var stone = CopyRecipe.Groups.ToList().IndexOf("stone");
        Assert.True(open.FindAll("#group option")[1].HasAttribute("disabled"));
        await open.Find("#group").ChangeAsync(stone.ToString(CultureInfo.InvariantCulture));
        await open.Find("#reference-material").ChangeAsync(Place(open, "Slate"));
        bench.Shop.Clock.Advance(TimeSpan.FromSeconds(5));
        await open.Find("form").SubmitAsync();
        open.WaitForAssertion(() => Assert.EndsWith("office/recipes", Uri, StringComparison.Ordinal));

        await using var context = await bench.Shop.ContextAsync();
        Assert.Equal("slate", (await context.Recipes.SingleAsync(r => r.Name == "Show-through on slate")).ReferenceMaterial);
        var facts = await ShopFacts.LoadAsync(context, bench.Shop.Clock.GetUtcNow(), default);
        Assert.Equal("Show-through on slate", facts.RecipeFor(Finish.ShowThrough, facts.Settings.Material("slate"))!.Name);
        Assert.Equal("Show-through", facts.RecipeFor(Finish.ShowThrough, facts.Settings.Material("al"))!.Name);
        Assert.Equal(1, await context.Audit.CountAsync(a => a.What == "recipe made"));
    }

    [Theory]
    [InlineData("white GROUND", Finish.ShowThrough, "metal", "name-taken")]
    [InlineData("Other", Finish.WhiteGround, "", "recipe-there")]
    [InlineData("Other", Finish.BehindGlass, "metal", "group-unfit")]
    [InlineData("Other", Finish.ShowThrough, "cheese", "group-unfit")]
    [InlineData(" ", Finish.ShowThrough, "metal", "name-missing")]
    public async Task Copy_WhereItCannotBe_IsRefused(string name, Finish finish, string group, string code)
    {
        var from = (await bench.Shop.Get<RecipeListView>().LoadAsync()).First(r => r.Name == "Show-through");
        var done = await bench.Shop.Get<CopyRecipe>().RunAsync(Asked.By(owner), new CopyInput(from.Id, name, finish, group, from.Steps));
        Assert.Equal(code, Assert.Single(done.Refusals).Code);
    }

    private async Task<IRenderedComponent<T>> OpenAsync<T>(string name)
        where T : IComponent
    {
        var id = (await bench.Shop.Get<RecipeListView>().LoadAsync()).First(r => r.Name == name).Id.Value;
        var who = TestPage.Worker(owner);
        var open = page.Render<T>(p =>
        {
            p.TryAdd("Id", id);
            p.AddCascadingValue(TestPage.Session(who));
        });
        open.WaitForElement("form");
        return open;
    }

    private static string Place<T>(IRenderedComponent<T> open, string material)
        where T : IComponent => open.FindAll("#reference-material option").Single(o => o.TextContent == material).GetAttribute("value")!;

    private static AngleSharp.Dom.IElement Button<T>(IRenderedComponent<T> open, int step, string text)
        where T : IComponent =>
        open.FindAll($"[aria-describedby=name-{step}]").Single(b => b.TextContent.Contains(text, StringComparison.Ordinal));

    private static Task PressAsync<T>(IRenderedComponent<T> open, int step, string text)
        where T : IComponent => Button(open, step, text).ClickAsync();

    private static async Task AddAsync<T>(IRenderedComponent<T> open, int after, string what)
        where T : IComponent
    {
        await PressAsync(open, after, "Add a step");
        var option = open.FindAll($"#kind-{after} option").Single(o => o.TextContent.StartsWith(what, StringComparison.Ordinal));
        await open.Find($"#kind-{after}").ChangeAsync(option.GetAttribute("value"));
        await open.FindAll(".step-add button").First().ClickAsync();
    }
}
