using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Tests.Support;

namespace ShopFloor.Web.Tests.Data;

/// <summary>The command that lets an owner in again who has forgotten the password.</summary>
public sealed class UserResetTests
{
    [Fact]
    public async Task UserReset_OwnerForgotThePassword_SignsInWithTheNewOneAndSessionsEnd()
    {
        await using var shop = await TestShop.EmptyAsync();
        var id = await shop.WorkerAsync(WorkerRole.Owner);
        var settings = new HostSettings { DataFolder = shop.Folder };
        string name;
        await using (var before = await shop.ContextAsync())
        {
            var owner = await before.Users.SingleAsync(u => u.Id == id);
            (owner.NormalizedUserName, owner.SecurityStamp) = (owner.UserName!.ToUpperInvariant(), "of before");
            (owner.AccessFailedCount, owner.LockoutEnd) = (5, shop.Clock.GetUtcNow().AddMinutes(5));
            await before.SaveChangesAsync();
            name = owner.UserName;
        }
        var unknown = new StringWriter();
        Assert.Equal(1, SafetyCommands.Run(["user-reset", "nobody"], settings, shop.Clock, unknown));
        Assert.Contains(name, unknown.ToString(), StringComparison.Ordinal);

        var said = new StringWriter();
        Assert.Equal(0, SafetyCommands.Run(["user-reset", name], settings, shop.Clock, said));

        var password = said.ToString().Split('\n')[0].Split(' ')[^1].Trim();
        await using var context = await shop.ContextAsync();
        var reset = await context.Users.SingleAsync(u => u.Id == id);
        Assert.Equal(
            PasswordVerificationResult.Success,
            new PasswordHasher<Worker>().VerifyHashedPassword(reset, reset.PasswordHash!, password)
        );
        Assert.NotEqual("of before", reset.SecurityStamp);
        Assert.Equal((0, null), (reset.AccessFailedCount, reset.LockoutEnd));
        var noted = await context.SecurityEvents.SingleAsync();
        Assert.Equal(("password reset by command", "system", id.ToString()), (noted.What, noted.By, noted.Subject));
        Assert.DoesNotContain(password, (await context.Audit.SingleAsync()).After, StringComparison.Ordinal);
    }

    [Fact]
    public async Task UserReset_WhereNoShopIs_SaysWhichFolderAndMakesNone()
    {
        await using var shop = await TestShop.EmptyAsync();
        var empty = Path.Combine(shop.Folder, "empty");
        var said = new StringWriter();
        Assert.Equal(1, SafetyCommands.Run(["user-reset", "ada"], new HostSettings { DataFolder = empty }, shop.Clock, said));
        Assert.Contains(empty, said.ToString(), StringComparison.Ordinal);
        Assert.False(File.Exists(ShopDatabase.FileIn(empty)));
    }
}
