using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Office.Duties;
using ShopFloor.Web.Office.Prices;
using ShopFloor.Web.Office.Recipes;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.SignIns;
using ShopFloor.Web.Tests.Bench;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Office;

/// <summary>Sign-ins given, changed and taken away; and that the audit list tells who changed prices, recipes and rights, from what to what.</summary>
public sealed class SignInTests
{
    private const string Password = "seven grey herons";

    [Fact]
    public async Task Give_SomebodyNew_MaySignInWithThePasswordAndOnlyDoThat()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var id = (await GiveAsync(shop, owner, "runa")).Value;

        await using var context = await shop.ContextAsync();
        var worker = await context.Users.SingleAsync(u => u.Id == id);
        Assert.Equal(
            PasswordVerificationResult.Success,
            new PasswordHasher<Worker>().VerifyHashedPassword(worker, worker.PasswordHash!, Password)
        );
        Assert.DoesNotContain(await context.Commands.ToListAsync(), c => c.ResultJson.Contains(Password, StringComparison.Ordinal));
        Assert.False((await GiveAsync(shop, id, "another")).IsOk);
        Assert.Equal("name-taken", (await GiveAsync(shop, owner, "RUNA")).Refusals[0].Code);
    }

    [Fact]
    public async Task Give_BadEntries_AreNamedBesideTheirFields()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var refused = await shop.Get<GiveSignIn>()
            .RunAsync(Asked.By(owner), new NewSignIn("", new SignInFacts("", "king", "", true)), "short");
        Assert.Equal(["Display", "Name", "Password", "Role"], refused.Refusals.Select(r => r.Field).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Change_TakenAwayAndGivenBack_EndsSessionsAndStandsInTheListWithBeforeAndAfter()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var id = (await GiveAsync(shop, owner, "runa")).Value;
        var stamp = await StampAsync(shop, id);
        var facts = new SignInFacts("Runa", WorkerRole.Bench, "", true);

        await ChangeAsync(shop, owner, id, facts with { Role = WorkerRole.Counter });
        await ChangeAsync(shop, owner, id, facts with { Role = WorkerRole.Counter, IsActive = false });
        await ChangeAsync(shop, owner, id, facts with { Role = WorkerRole.Counter });
        await ChangeAsync(shop, owner, id, facts with { Role = WorkerRole.Counter }, "nine brown otters");

        Assert.NotEqual(stamp, await StampAsync(shop, id));
        var list = (await shop.Get<RecordView>().AuditAsync("runa", 1)).Rows;
        Assert.Equal(
            ["new password", "rights changed", "sign-in given", "sign-in given back", "sign-in taken away"],
            list.Select(r => r.What).Order(StringComparer.Ordinal)
        );
        Assert.All(list, r => Assert.Equal(("owner", "runa"), (r.By, r.Subject)));
        var rights = list.Single(r => r.What == "rights changed");
        Assert.Equal(new AuditChange("role", "bench", "counter"), Assert.Single(AuditDifference.Of(rights.Before, rights.After)));
    }

    [Fact]
    public async Task Change_TheOnlyOwner_CanNeitherGoNorBecomeLess()
    {
        await using var shop = await TestShop.EmptyAsync();
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var facts = new SignInFacts("Ada", WorkerRole.Owner, "", true);
        foreach (var less in new[] { facts with { IsActive = false }, facts with { Role = WorkerRole.Bench } })
        {
            var refused = await shop.Get<ChangeSignIn>()
                .RunAsync(Asked.By(owner), new SignInChange(owner, await FactsAsync(shop, owner), less, false));
            Assert.Equal("last-owner", Assert.Single(refused.Refusals).Code);
        }
        await shop.WorkerAsync(WorkerRole.Owner);
        await ChangeAsync(shop, owner, owner, facts with { IsActive = false });
    }

    [Fact]
    public async Task Audit_PricesAndRecipes_TellWhoWhenBeforeAndAfter()
    {
        await using var bench = await BenchShop.OpenAsync(1);
        var shop = bench.Shop;
        var owner = await shop.WorkerAsync(WorkerRole.Owner);
        var now = await shop.Get<SettingsView>().LoadAsync();
        var rule = now.Rule with { RushPercent = now.Rule.RushPercent + 5 };
        Assert.True((await shop.Get<ChangePrices>().RunAsync(Asked.By(owner), new PricesInput(now.Rates, rule, now.Inputs))).IsOk);
        var recipe = (await shop.Get<RecipeListView>().LoadAsync())[0];
        var steps = recipe.Steps.Select((s, i) => i == 0 ? Longer(s) : s).ToList();
        var changed = await shop.Get<ChangeRecipe>().RunAsync(Asked.By(owner), new RecipeInput(recipe.Id, steps));
        Assert.True(changed.IsOk, string.Join(' ', changed.Refusals.Select(r => r.Text)));

        var list = (await shop.Get<RecordView>().AuditAsync(null, 1)).Rows;
        foreach (var subject in new[] { "price rule", recipe.Name })
        {
            var entry = list.First(r => r.Subject == subject && r.Before != r.After);
            Assert.Equal("owner", entry.By);
            Assert.Equal(shop.Clock.GetUtcNow().UtcDateTime.AddHours(1), entry.At);
            Assert.NotEmpty(AuditDifference.Of(entry.Before, entry.After));
            Assert.Contains(entry, (await shop.Get<RecordView>().AuditAsync(subject, 1)).Rows);
        }
    }

    private static RecipeStep Longer(RecipeStep step) => step with { LengthSeconds = step.LengthSeconds + 60 };

    private static Task<Domain.Result<Guid>> GiveAsync(TestShop shop, Guid by, string name) =>
        shop.Get<GiveSignIn>().RunAsync(Asked.By(by), new NewSignIn(name, new SignInFacts("Runa", WorkerRole.Bench, "", true)), Password);

    private static async Task ChangeAsync(TestShop shop, Guid by, Guid id, SignInFacts facts, string? password = null)
    {
        var change = new SignInChange(id, await FactsAsync(shop, id), facts, password is not null);
        var done = await shop.Get<ChangeSignIn>().RunAsync(Asked.By(by), change, password);
        Assert.True(done.IsOk, string.Join(' ', done.Refusals.Select(r => r.Text)));
    }

    private static async Task<SignInFacts> FactsAsync(TestShop shop, Guid id) =>
        (await shop.Get<SignInView>().LoadAsync()).Rows.Single(r => r.Id == id).Facts;

    private static async Task<string?> StampAsync(TestShop shop, Guid id)
    {
        await using var context = await shop.ContextAsync();
        return (await context.Users.SingleAsync(u => u.Id == id)).SecurityStamp;
    }
}
