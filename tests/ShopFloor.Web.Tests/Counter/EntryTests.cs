using CsCheck;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Domain.Pictures;
using ShopFloor.Domain.Recipes;
using ShopFloor.Web.Counter.Booking;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Intake;
using ShopFloor.Web.Counter.Pictures;
using ShopFloor.Web.Counter.Steps;
using Answer = ShopFloor.Domain.Materials.Answer;

namespace ShopFloor.Web.Tests.Counter;

public sealed class EntryTests
{
    private static readonly DateOnly Today = new(2026, 3, 4);

    private static LineEntry Plate => PlainEntry.Plate("Boat club");

    [Fact]
    public void Of_AHollowPiece_AsksForItsWallAndRefusesOneThatIsTooThick()
    {
        var flask = Plate with { Form = Form.SlightlyCurved, Thickness = "22", Wall = "0.8" };
        IEnumerable<string> Faults(LineEntry line) =>
            StepFaults.Of(new OrderEntry { Lines = [line] }, CounterStep.Size, Today).Select(f => f.Field);

        Assert.Equal(0.8m, EntryReading.Piece(flask, LengthUnit.Millimetre).Wall.Millimetres);
        Assert.Empty(Faults(flask));
        Assert.Empty(Faults(flask with { Wall = "" }));
        Assert.Equal(["wall"], Faults(flask with { Wall = "12" }));
        Assert.Equal(["wall"], Faults(flask with { Wall = "thin" }));
        // A plate is never asked, so what stood there once does not count.
        Assert.Equal(0m, EntryReading.Piece(Plate with { Wall = "0.4" }, LengthUnit.Millimetre).Wall.Millimetres);
    }

    private static readonly Gen<Framing> Framings =
        from zoom in Gen.Double[1, Framing.MostZoom]
        from x in Gen.Double[0, 1]
        from y in Gen.Double[0, 1]
        from turns in Gen.Int[0, 3]
        select new Framing(zoom, x, y, turns, true);

    [Fact]
    public void Part_AnyFraming_LiesInThePictureAndHasTheFacesProportions() =>
        (
            from f in Framings
            from wide in Gen.Int[10, 8000]
            from high in Gen.Int[10, 8000]
            from w in Gen.Double[5, 500]
            from h in Gen.Double[5, 500]
            select (f, wide, high, w, h)
        ).Sample(s =>
        {
            var part = s.f.Part(s.wide, s.high, s.w, s.h);
            var (across, down) = (part.Width * s.wide, part.Height * s.high);
            var wanted = s.f.Turns % 2 == 0 ? s.w / s.h : s.h / s.w;
            return part.Left >= 0
                && part.Top >= 0
                && part.Left + part.Width <= 1 + 1e-9
                && part.Top + part.Height <= 1 + 1e-9
                && Math.Abs(across / down / wanted - 1) < 1e-6;
        });

    [Fact]
    public void Of_ABookedPlacement_ShowsTheSamePartAgain() =>
        Framings.Sample(f =>
        {
            var part = f.Part(1600, 1200, 104, 64);
            var on = new PictureOnFace(
                new PictureCrop(part.Left, part.Top, part.Width, part.Height),
                (QuarterTurn)f.Turns,
                PictureFit.Fill
            );
            var again = Framing.Of(on, 1600, 1200, 104, 64).Part(1600, 1200, 104, 64);
            return Math.Abs(again.Left - part.Left) < 1e-9
                && Math.Abs(again.Top - part.Top) < 1e-9
                && Math.Abs(again.Width - part.Width) < 1e-9;
        });

    [Theory]
    [InlineData(0, 0.1, 0)]
    [InlineData(1, 0, -0.1)]
    [InlineData(2, -0.1, 0)]
    [InlineData(3, 0, 0.1)]
    public void Moved_ToTheRightAsSeen_ShowsMoreOfTheLeftAsSeen(int turns, double left, double up)
    {
        var framing = new Framing(4, 0.5, 0.5, turns, true);
        var part = framing.Part(1000, 1000, 100, 100);
        var moved = framing.Moved(0.1, 0, part).Part(1000, 1000, 100, 100);
        Assert.Equal(part.Left - left * part.Width, moved.Left, 9);
        Assert.Equal(part.Top - up * part.Height, moved.Top, 9);
    }

    [Fact]
    public void Resolution_OfTheLaidPicture_IsItsPixelsOverThePrintedInches()
    {
        // 1040 × 640 pixels on 104 × 64 mm with bleed: 10 pixels a millimetre, 254 to the inch.
        var line = Plate with
        {
            Picture = new PictureEntry(new(Guid.CreateVersion7()), 1040, 640, "p.png"),
        };
        var laid = LaidPicture.Of(line, LengthUnit.Millimetre, new PrintRules(2));
        Assert.Equal(254, laid!.Resolution.Value.LowerPpi, 6);
    }

    [Theory]
    [InlineData("25", 25)]
    [InlineData("1.250.000", 1250000)]
    [InlineData("0,5", 0.5)]
    [InlineData("1250,50", 1250.5)]
    [InlineData("1.250,50 €", 1250.5)]
    [InlineData("$1,250.50", 1250.5)]
    public void Amount_UsualWaysToWrite_GiveTheMoney(string text, double amount) =>
        Assert.Equal((decimal)amount, NumberText.Amount(text).Value);

    [Theory]
    [InlineData("")]
    [InlineData("-5")]
    [InlineData("much")]
    [InlineData("1.2345")]
    [InlineData("1.2.3")]
    [InlineData("1,2.3")]
    [InlineData("1.2,3")]
    [InlineData("0.125")]
    public void Amount_WhatIsNone_IsRefused(string text) => Assert.False(NumberText.Amount(text).IsOk);

    /// <summary>One writes 1.000 for a thousand, another for one: a piece was booked with a thousand times what it is worth.</summary>
    [Theory]
    [InlineData("1.000", "1000", "1.00")]
    [InlineData("12,345 €", "12345", "12.3450")]
    public void Amount_ThatCanMeanTwo_IsRefusedWithBoth(string text, string thousands, string fraction)
    {
        Assert.False(NumberText.Amount(text).IsOk);
        var fault = NumberText.AmountFault("value", "Value you named for it", text)!;
        Assert.Equal(("value", text, thousands, fraction), (fault.Field, fault.Values[1], fault.Values[2], fault.Values[3]));
        Assert.Null(NumberText.AmountFault("value", "Value you named for it", "12.50"));
    }

    [Theory]
    [InlineData("0.125", 0.125)]
    [InlineData("0,125", 0.125)]
    [InlineData("45", 45)]
    [InlineData("12.5", 12.5)]
    public void Area_WithOneMeaning_IsRead(string text, double area)
    {
        Assert.Equal((decimal)area, NumberText.Area(text).Value);
        Assert.Null(NumberText.AreaFault("area", text));
    }

    [Theory]
    [InlineData("12.345", "“{0}” can mean two areas. Write {1} or {2}.")]
    [InlineData("1,2.3", "Please enter the area in cm², for example 45")]
    [InlineData("", "Please enter the area in cm², for example 45")]
    public void Area_WithTwoMeaningsOrNone_IsRefused(string text, string says)
    {
        Assert.False(NumberText.Area(text).IsOk);
        Assert.Equal(says, NumberText.AreaFault("area", text)!.Key);
    }

    [Fact]
    public void List_BadRows_AreToldByNumberAndGoodOnesStay()
    {
        var rows = TextList.Read($"\uFEFFAnna\r\n\r\n{new string('x', 201)}\nBo\u0007b\n\"Céline; Dupont\"\nDov; Kabine 4\n");
        Assert.Equal(["Anna", "Céline; Dupont", "Dov; Kabine 4"], TextList.Good(rows));
        Assert.Equal([3, 4], rows.Where(r => r.Fault is not null).Select(r => r.Row));
    }

    [Fact]
    public void List_SixtyNames_AreSixtyPiecesWithTheirTexts()
    {
        var line = Plate with { List = string.Join('\n', Enumerable.Range(1, 60).Select(n => $"Cabin {n}")) };
        var input = EntryReading.Line(line, LengthUnit.Millimetre, 2);
        Assert.Equal(60, input.Quantity);
        Assert.Equal("Cabin 60", input.Texts[59]);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("1 2")]
    [InlineData("a b c")]
    [InlineData("NaN 0 1")]
    [InlineData("0 0 0")]
    [InlineData("1e9 0 1")]
    public void HandMove_WhatNoScriptOfOursSends_IsIgnored(string? text) => Assert.Null(HandMove.Read(text));

    [Theory]
    [InlineData("", "width")]
    [InlineData("abc", "width")]
    [InlineData("-3", "width")]
    [InlineData("9 m", "width")]
    public void Faults_OfAWrongWidth_StandAtTheWidthOnce(string width, string field)
    {
        var entry = new OrderEntry { Lines = [Plate with { Width = width }] };
        Assert.Equal([field], StepFaults.Of(entry, CounterStep.Size, Today).Select(f => f.Field));
    }

    [Theory]
    [InlineData("abc", "20", "Width")]
    [InlineData("0", "20", "Width")]
    [InlineData("100", "much", "Value you named for it")]
    public void Faults_OfWhatCannotBeRead_NameTheirField(string width, string value, string name)
    {
        var entry = new OrderEntry { Lines = [Plate with { Width = width, Value = value }] };
        Assert.Equal(name, StepFaults.Of(entry, CounterStep.Size, Today).Single().Values[0]);
    }

    /// <summary>What hides in a piece belongs to what the piece is, and is asked once it is known which questions make sense.</summary>
    [Fact]
    public void Faults_OfWhatHides_StandWhereThePieceIsDescribed()
    {
        OrderEntry Of(LineEntry line) => new() { Lines = [line with { HiddenAnswer = HiddenAnswer.NotYet }] };
        IEnumerable<string> At(LineEntry line, CounterStep step) => StepFaults.Of(Of(line), step, Today).Select(f => f.Field);

        Assert.Equal(["hidden"], At(Plate, CounterStep.Piece));
        Assert.Empty(At(Plate, CounterStep.Size));
        Assert.Equal(["form"], At(Plate with { Form = null }, CounterStep.Piece));
        Assert.False(HiddenQuestions.AreAsked(Plate with { Material = "" }));
        Assert.Equal(CounterStep.Piece, OrderWalk.StepOf(new Refusal("x", "x", "lines.0.hidden")));
    }

    [Fact]
    public void Faults_OfWordsAboutThePiece_BeginWhereTheFieldEnds()
    {
        OrderEntry Saying(int letters) => new() { Lines = [Plate with { Note = new string('x', letters) }] };
        Assert.Empty(StepFaults.Of(Saying(LineFaults.MostNote), CounterStep.Piece, Today));
        Assert.Equal("note", StepFaults.Of(Saying(LineFaults.MostNote + 1), CounterStep.Piece, Today).Single().Field);
    }

    [Theory]
    [InlineData("Für 漢", "漢")]
    [InlineData("Anna 😀", "😀")]
    public void Faults_OfSignsThatOurLettersLack_StandAtTheTextAndNameThem(string text, string sign)
    {
        var entry = new OrderEntry { Lines = [Plate with { Text = text }] };
        var fault = StepFaults.Of(entry, CounterStep.Picture, Today).Single();
        Assert.Equal(("text", sign), (fault.Field, fault.Values[0]));
        Assert.Contains(LineFaults.Of(EntryReading.Line(entry.Line, LengthUnit.Millimetre, 2)), f => f.Code == "text-unprintable");
        Assert.NotNull(TextList.Read(text).Single().Fault);
    }

    [Fact]
    public void Faults_OfAFullEntry_AreNone()
    {
        var entry = new OrderEntry
        {
            Lines = [Plate],
            Name = "Ömer Ŝanĝo-O’Neill",
            Phone = "030 123456",
            ContactAgreed = true,
        };
        Assert.All(CounterSteps.All, step => Assert.Empty(StepFaults.Of(entry, step, Today)));
        Assert.Equal(CounterStep.Check, OrderWalk.Farthest(entry, Today));
    }

    [Theory]
    [InlineData("2026-03-03")]
    [InlineData("2029-01-01")]
    [InlineData("soon")]
    public void Faults_OfADayThatCannotBe_StandAtTheDay(string wanted)
    {
        var entry = new OrderEntry { Lines = [Plate], Wanted = wanted };
        Assert.Equal(["wanted"], StepFaults.Of(entry, CounterStep.Look, Today).Select(f => f.Field));
    }

    [Theory]
    [InlineData("0")]
    [InlineData("-1")]
    [InlineData("1001")]
    [InlineData("99999999999")]
    [InlineData("two")]
    public void Faults_OfANumberOfPiecesThatCannotBe_StandAtIt(string quantity)
    {
        var entry = new OrderEntry { Lines = [Plate with { Quantity = quantity }] };
        Assert.Equal(["quantity"], StepFaults.Of(entry, CounterStep.Look, Today).Select(f => f.Field));
    }

    [Fact]
    public void Steps_OfAPieceOfTheWorkshop_LeaveTheSizeOut()
    {
        var entry = new OrderEntry { Lines = [Plate with { IsOwn = false }] };
        Assert.DoesNotContain(CounterStep.Size, OrderWalk.Steps(entry));
        Assert.Equal(CounterStep.Picture, OrderWalk.Next(entry, CounterStep.Piece));
        Assert.Equal(CounterStep.Piece, OrderWalk.Before(entry, CounterStep.Picture));
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(2, -1)]
    [InlineData(3, 2)]
    public void Without_ALine_TheCodeOnThePhoneStaysWithItsOwn(int gone, int left)
    {
        var entry = new OrderEntry { Lines = [Plate, Plate, Plate, Plate], PhoneAt = 2 };
        Assert.Equal(left, entry.Without(gone).PhoneAt);
    }

    [Fact]
    public void Known_WithAnAddedPieceNotYetDescribed_IsTheOthers()
    {
        var one = new OrderEntry { Lines = [Plate] };
        Assert.Equal(one.Lines, OrderWalk.Known(one.Adding(new LineEntry())).Lines);
        Assert.Equal(2, OrderWalk.Known(one.Adding(Plate with { Width = "110" })).Lines.Count);
        Assert.Single(OrderWalk.Known(new OrderEntry()).Lines);
    }

    [Fact]
    public void Known_BeforeAnythingWasAskedOfTheInside_SpeaksAgainstNothingAndNobodyBooksSo()
    {
        var entry = new OrderEntry { Lines = [Plate with { HiddenAnswer = HiddenAnswer.NotYet }] };
        Assert.Equal(HiddenAnswer.Nothing, OrderWalk.Known(entry).Line.HiddenAnswer);
        Assert.Equal(CounterStep.Piece, OrderWalk.Farthest(entry, Today));
        var unsure = new OrderEntry { Lines = [Plate with { HiddenAnswer = HiddenAnswer.DontKnow }] };
        Assert.Equal(HiddenAnswer.DontKnow, OrderWalk.Known(unsure).Line.HiddenAnswer);
    }

    [Fact]
    public void OldCoat_OfAnOwnPiece_IsAskedAndNobodyIsTakenToHaveSaidThatItIsBare()
    {
        var entry = new OrderEntry { Lines = [Plate with { OldCoat = null }] };
        Assert.Equal("hidden", Assert.Single(StepFaults.Of(entry, CounterStep.Piece, Today)).Field);
        Assert.Equal(CounterStep.Piece, OrderWalk.Farthest(entry, Today));
        Assert.Equal(Answer.Unknown, EntryReading.Piece(entry.Line, LengthUnit.Millimetre).Hidden.OldCoat);
        Assert.Equal(Answer.No, EntryReading.Piece(OrderWalk.Known(entry).Line, LengthUnit.Millimetre).Hidden.OldCoat);
        Assert.Equal(CounterStep.Piece, OrderWalk.StepOf(new ShopFloor.Domain.Refusal("x", "x", "lines.0.oldCoat")));
        // One tick says it of everything that was asked; whoever ticks something else has seen it, too.
        Assert.Equal(Answer.No, HiddenQuestions.Said(entry.Line, HiddenAnswer.Nothing).OldCoat);
        Assert.Equal(Answer.Unknown, HiddenQuestions.Said(entry.Line, HiddenAnswer.DontKnow).OldCoat);
        Assert.Null(HiddenQuestions.Said(Plate, HiddenAnswer.NotYet).OldCoat);
        Assert.Equal(Answer.No, HiddenQuestions.Ticked(entry.Line, "Glue", true).OldCoat);
        var coated = HiddenQuestions.Coated(HiddenQuestions.Said(Plate, HiddenAnswer.DontKnow), true);
        Assert.Equal((HiddenAnswer.Some, Answer.Yes), (coated.HiddenAnswer, coated.OldCoat));
        Assert.Equal(Answer.Yes, HiddenQuestions.Ticked(coated, "Glue", true).OldCoat);
        Assert.Empty(StepFaults.Of(new OrderEntry { Lines = [coated] }, CounterStep.Piece, Today));
        Assert.Equal(Answer.Yes, EntryReading.Piece(coated, LengthUnit.Millimetre).Hidden.OldCoat);
    }
}
