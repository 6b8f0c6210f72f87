using CsCheck;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Quantities;
using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Tests.Counter;

/// <summary>The inch is 25.4 mm exactly (international yard and pound agreement, 1959).</summary>
public sealed class SizeTextTests
{
    [Theory]
    [InlineData("90", 90_000)]
    [InlineData(" 88,9 ", 88_900)]
    [InlineData("88.9 mm", 88_900)]
    [InlineData("8,89cm", 88_900)]
    [InlineData("0.5 m", 500_000)]
    [InlineData("3 1/2 in", 88_900)]
    [InlineData("3-1/2\"", 88_900)]
    [InlineData("3½″", 88_900)]
    [InlineData("½ Zoll", 12_700)]
    [InlineData("1/8in", 3_175)]
    [InlineData("3.5 inches", 88_900)]
    [InlineData("1.125 in", 28_575)]
    [InlineData("12.345", 12_345)]
    [InlineData("0,125", 125)]
    [InlineData("1.234,5", 1_234_500)]
    [InlineData("1,234.5", 1_234_500)]
    public void Read_UsualWaysToWrite_GiveTheLength(string text, long micrometres)
    {
        var read = SizeText.Read(text, LengthUnit.Millimetre);
        Assert.True(read.IsOk, text);
        Assert.Equal(micrometres, read.Value.Micrometres);
    }

    [Theory]
    [InlineData("3.5", 88_900)]
    [InlineData("3 1/2", 88_900)]
    [InlineData("90 mm", 90_000)]
    public void Read_InInches_TakesABareNumberAsInches(string text, long micrometres) =>
        Assert.Equal(micrometres, SizeText.Read(text, LengthUnit.Inch).Value.Micrometres);

    [Theory]
    [InlineData("", "size-missing")]
    [InlineData(null, "size-missing")]
    [InlineData("large", "size-unreadable")]
    [InlineData("1/0 in", "size-unreadable")]
    [InlineData("3 5/2 in", "size-unreadable")]
    [InlineData("1.2.3", "size-unreadable")]
    [InlineData("90 kg", "size-unreadable")]
    [InlineData("-5", "size-negative")]
    [InlineData("−5 mm", "size-negative")]
    [InlineData("0", "size-zero")]
    [InlineData("0.0001", "size-zero")]
    [InlineData("1.250", "size-ambiguous")]
    [InlineData("1,250 mm", "size-ambiguous")]
    [InlineData("3 1/2", "size-ambiguous")]
    [InlineData("999999999", "size-too-large")]
    public void Read_WhatIsNoSizeOrTwo_SaysWhy(string? text, string code) =>
        Assert.Equal(code, SizeText.Read(text, LengthUnit.Millimetre).Refusals[0].Code);

    [Fact]
    public void Read_AHundredThousandCharacters_IsRefusedAtOnce() =>
        Assert.Equal("size-unreadable", SizeText.Read(new string('9', 100_000), LengthUnit.Millimetre).Refusals[0].Code);

    [Fact]
    public void Typed_AnyLength_ReadsBackTheSameInBothUnits() =>
        Gen.Long[1, 3_000_000]
            .Sample(micrometres =>
            {
                var text = SizeEcho.Typed(Length.FromMicrometres(micrometres));
                return SizeText.Read(text, LengthUnit.Millimetre).Value.Micrometres == micrometres
                    && SizeText.Read(text, LengthUnit.Inch).Value.Micrometres == micrometres;
            });

    [Theory]
    [InlineData(88_900, "3 1/2 in")]
    [InlineData(25_400, "1 in")]
    [InlineData(3_175, "1/8 in")]
    [InlineData(90_000, "≈\u00a03.54 in")]
    [InlineData(200_000, "≈\u00a07.87 in")]
    [InlineData(1_500, "≈\u00a00.059 in")]
    public void Inches_OfALength_AreAFractionWhereItIsExact(long micrometres, string said)
    {
        var before = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("en-GB");
        Assert.Equal(said, SizeEcho.Inches(Length.FromMicrometres(micrometres)));
        CultureInfo.CurrentCulture = before;
    }

    [Theory]
    [InlineData(FaceShape.Rectangle, "100 mm × 60 mm")]
    [InlineData(FaceShape.Disc, "Ø 100 mm")]
    [InlineData(FaceShape.Ring, "Ø 100 mm")]
    public void Face_OfAShape_IsSaidByItsSidesOrItsDiameter(FaceShape shape, string said)
    {
        var piece = new PieceDescription
        {
            Material = "al",
            Face = shape,
            Width = Length.FromMillimetres(100),
            Height = Length.FromMillimetres(60),
        };
        Assert.Equal(said, SizeEcho.Face(piece));
    }

    /// <summary>The unit is changed for one piece: bare numbers of the others stay what they were.</summary>
    [Theory]
    [InlineData("100", LengthUnit.Millimetre)]
    [InlineData("88,9", LengthUnit.Millimetre)]
    [InlineData("90.", LengthUnit.Millimetre)]
    [InlineData("3 1/2", LengthUnit.Inch)]
    [InlineData("4", LengthUnit.Inch)]
    [InlineData("3½\"", LengthUnit.Millimetre)]
    [InlineData("5 cm", LengthUnit.Inch)]
    public void In_AnotherUnit_LeavesTheOtherPiecesAsLarge(string typed, LengthUnit before)
    {
        var line = new LineEntry
        {
            Width = typed,
            Height = "",
            Thickness = "wide",
        };
        var entry = new OrderEntry
        {
            Unit = before,
            Lines = [line, line],
            At = 1,
        };
        var after = entry.In(before == LengthUnit.Inch ? LengthUnit.Millimetre : LengthUnit.Inch);

        Assert.Equal(SizeText.Read(typed, before).Value, SizeText.Read(after.Lines[0].Width, after.Unit).Value);
        Assert.Equal(("", "wide"), (after.Lines[0].Height, after.Lines[0].Thickness));
        Assert.Equal(line, after.Line);
        Assert.Equal(entry, entry.In(before));
    }
}
