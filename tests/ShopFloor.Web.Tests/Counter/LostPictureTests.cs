using ShopFloor.Data;
using ShopFloor.Domain.Colour;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Commands;
using ShopFloor.Web.Counter.Drafts;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Office.Settings;
using ShopFloor.Web.Office.Workshop;
using SkiaSharp;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>What the Counter tells of a picture on its ground.</summary>
public sealed class LostPictureTests
{
    private const string Material = "About {0} of your picture turns to the colour of the material.";

    [Theory]
    [InlineData(Finish.ShowThrough, Material)]
    [InlineData(Finish.VelvetMatt, Material)]
    [InlineData(Finish.WhiteGround, null)]
    [InlineData(Finish.BehindGlass, "About {0} of your picture, its lightest parts, looks a little darker than on the screen.")]
    public void Lost_OfTheGround_IsSaidAsTheFinishShowsIt(Finish finish, string? says) =>
        Assert.Equal(says is null ? [] : [(says, 0.01)], FinishTexts.Lost(finish, new ReachOfPicture(1, 0.01, 0, 1, 1)));

    [Fact]
    public void Lost_OfDarks_IsASentenceOfItsOwnAndNothingIsSaidOfNothing()
    {
        var said = Assert.Single(FinishTexts.Lost(Finish.VelvetMatt, new ReachOfPicture(1, 0.004, 0.3, 1, 1)));
        Assert.Equal(("About {0} of your picture, its darkest parts, looks a little lighter.", 0.3), said);
    }

    /// <summary>Whatever the owner sets, what is white turns to metal; how far a colour may be off before it is told is the owner's number.</summary>
    [Fact]
    public async Task Lost_OfAWhiteAndAYellowHalf_CountsByTheDifferenceThatTheOwnerSets()
    {
        await using var counter = await CounterHost.OpenAsync();
        var draft = await counter.BeginAsync();
        await CounterHost.SendAsync(counter.Tablet, "/counter", $"/counter/order/{draft}/pictures", Halves(), "halves.png");
        var worker = await counter.WorkerAsync(WorkerRole.Counter);
        var picture = Assert.Single((await counter.Get<OpenDraft>().RunAsync(worker, draft)).Value.Kept.Incoming).Picture.Id;
        async Task<double> LostAsync(string material, Finish finish = Finish.ShowThrough) =>
            (await counter.Get<PictureViews>().LostAsync(picture, finish, material, default)).GroundShare;

        Assert.Equal(1, await LostAsync("ss"), 0.02);
        Assert.True(await LostAsync("al") >= 0.49);
        Assert.Equal(0.5, await LostAsync("al", Finish.WhiteGround), 0.02);
        var profile = (await counter.Get<SettingsView>().LoadAsync()).Profile with
        {
            Name = "Moorlight",
            Country = "DE",
            VisibleDeltaE = 50,
        };
        var owner = await counter.WorkerAsync(WorkerRole.Owner);
        // On white ground it is the yellow half only, which is no longer told of once the difference is large.
        var kept = await counter.Get<ChangeProfile>().RunAsync(Asked.By(owner), profile);
        Assert.True(kept.IsOk, string.Join("; ", kept.Refusals.Select(r => r.Text)));
        Assert.Equal(0.5, await LostAsync("ss"), 0.02);
        Assert.Equal(0.5, await LostAsync("al"), 0.02);
        Assert.Equal(0, await LostAsync("al", Finish.WhiteGround));
    }

    private static byte[] Halves()
    {
        using var bitmap = new SKBitmap(300, 200);
        bitmap.Erase(SKColors.White);
        bitmap.Erase(SKColors.Yellow, new SKRectI(150, 0, 300, 200));
        using var data = bitmap.Encode(SKEncodedImageFormat.Png, 90);
        return data.ToArray();
    }
}
