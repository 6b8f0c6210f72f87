using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Domain.Stock;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Counter.Steps;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>Two pieces of the workshop may have the same material and measures, such as slate with and without a hook.</summary>
public sealed class BlankChoiceTests
{
    private static readonly PieceDescription Slate = new()
    {
        Material = "slate",
        Face = FaceShape.Rectangle,
        Width = Length.FromMillimetres(200),
        Height = Length.FromMillimetres(150),
        Thickness = Length.FromMillimetres(5),
        Hidden = HiddenParts.None,
    };

    private static readonly IReadOnlyList<BlankChoice> Choices =
    [
        new("plain", "Slate", Slate, 5),
        new("hook", "Slate with a hook", Slate, 5),
    ];

    private static readonly IReadOnlyList<StockItem> Items =
    [
        .. Choices.Select(c => new StockItem(c.Code, c.Name, StockItem.Blank, "piece", 5, 1, 2m)
        {
            BlankJson = Blanks.Json(c.Piece, new Dictionary<string, string>()),
        }),
    ];

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    public void Fill_OneOfTwoAlike_IsTheOneThatIsChosenBookedAndRepeated(int chosen)
    {
        var choice = Choices[chosen];
        var line = BlankMatch.Fill(choice, new LineEntry());
        Assert.Equal(choice, BlankMatch.Of(Choices, line));

        var piece = EntryReading.Piece(line, LengthUnit.Millimetre);
        Assert.Equal(choice.Code, Blanks.Fitting(Items, piece)?.Code);

        var again = LineAgain.Of(new OrderLine(new(Guid.CreateVersion7()), 1, 1, piece, default), null, 2);
        Assert.Equal(choice, BlankMatch.Of(Choices, again));
    }

    [Fact]
    public void Fitting_OnlyTheMeasuresAreKnownOrTheBlankIsGone_IsTheFirstWithThem()
    {
        Assert.Equal("plain", Blanks.Fitting(Items, Slate)?.Code);
        Assert.Equal("plain", Blanks.Fitting(Items, Slate with { Blank = "sold-out" })?.Code);
        Assert.Null(Blanks.Fitting(Items, Slate with { Blank = "hook", Width = Length.FromMillimetres(201) }));
        Assert.Null(BlankMatch.Of(Choices, BlankMatch.Fill(Choices[1], new LineEntry()) with { IsOwn = true }));
    }
}
