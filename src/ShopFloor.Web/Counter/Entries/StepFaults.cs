using ShopFloor.Documents.Pdf;
using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Counter.Booking;

namespace ShopFloor.Web.Counter.Entries;

/// <summary>What is wrong with a step when somebody wants to go on. Never asked while typing.</summary>
public static class StepFaults
{
    /// <summary>Last part of the field in which a clerk sets a line's price.</summary>
    public const string PriceField = "priceByHand";

    /// <summary>Last part of the field that says why.</summary>
    public const string ReasonField = "priceReason";

    /// <summary>The faults of a step for the line being entered; empty: go on.</summary>
    public static IReadOnlyList<Fault> Of(OrderEntry entry, CounterStep step, DateOnly today) =>
        step switch
        {
            CounterStep.Piece => [.. Piece(entry.Line)],
            CounterStep.Size => [.. Size(entry.Line, entry.Unit)],
            CounterStep.Picture => [.. Picture(entry.Line)],
            CounterStep.Look => [.. Look(entry, today)],
            CounterStep.You => [.. You(entry)],
            CounterStep.Check => [.. entry.Lines.SelectMany(ByHand)],
            _ => [],
        };

    private static IEnumerable<Fault> Piece(LineEntry line)
    {
        if (line.IsOwn is null)
            yield return new Fault("own", "Please say whether you bring the piece or take one of ours.");
        else if (line.IsOwn == false && line.Width.Length == 0)
            yield return new Fault("blank", "Please choose one of our pieces.");
        if (line.IsOwn != true)
            yield break;
        if (line.Material.Length == 0)
            yield return new Fault("material", "Please choose what it is made of, or “I don’t know”.");
        if (line.Form is null)
            yield return new Fault("form", "Please choose the form that is most like your piece.");
        // What hides in it is asked once both are known.
        if (line is { Material.Length: > 0, Form: not null } && !IsHiddenAnswered(line))
            yield return new Fault("hidden", "Please tick what is true, or “None of this”.");
        foreach (var fault in LineFaults.Of(EntryReading.Line(line, LengthUnit.Millimetre, 0)).Where(f => f.Field == "note"))
            yield return new Fault("note", fault.Text);
    }

    private static IEnumerable<Fault> Size(LineEntry line, LengthUnit unit)
    {
        var round = line.Face is FaceShape.Disc or FaceShape.Ring;
        var around = EntryReading.GoesRound(line);
        var texts = new List<(string Field, string Text)> { ("width", line.Width) };
        if (!round)
            texts.Add(("height", line.Height));
        texts.Insert(around ? 0 : texts.Count, ("thickness", line.Thickness));
        if (EntryReading.AsksWall(line, unit) && line.Wall.Trim().Length > 0)
            texts.Add(("wall", line.Wall));
        if (line.Face == FaceShape.RoundedRectangle)
            texts.Add(("corner", line.Corner));
        if (line.Face == FaceShape.Ring)
            texts.Add(("hole", line.Hole));
        var faults = texts
            .Where(t => !SizeText.Read(t.Text, unit).IsOk)
            .Select(t => new Fault(
                t.Field,
                t.Text.Trim().Length == 0 ? Missing(t.Field, round, around) : "{0}: {1}",
                Named(t.Field, round, around),
                SizeText.Read(t.Text, unit).Refusals[0].Text
            ))
            .ToList();
        if (line.Face == FaceShape.Free && NumberText.AreaFault("area", line.Area) is { } area)
            faults.Add(area);
        faults.AddRange(FromDomain(line, unit).Where(f => faults.TrueForAll(u => u.Field != f.Field)).ToList());
        // As they stand on the page, so that the summary reads from top to bottom.
        var order = texts.ConvertAll(t => t.Field);
        foreach (var fault in faults.OrderBy(f => order.IndexOf(f.Field) is var at && at < 0 ? order.Count : at))
            yield return fault;
        foreach (var fault in OwnPiece(line))
            yield return fault;
    }

    // Each says what is missing: the summary at the top has no labels beside it.
    private static string Missing(string field, bool round, bool around) =>
        field switch
        {
            "width" when round => "Please enter the diameter.",
            "width" when around => "Please enter the width of the picture.",
            "thickness" when around => "Please enter the diameter.",
            "width" => "Please enter the width.",
            "height" => "Please enter the height.",
            "thickness" => "Please enter the thickness.",
            "corner" => "Please enter the radius of the corners.",
            _ => "Please enter the diameter of the hole.",
        };

    private static string Named(string field, bool round, bool around) =>
        field switch
        {
            "width" when round => "Diameter",
            "width" when around => "Width of the picture, round the piece",
            "thickness" when around => "Diameter, outside",
            "width" => "Width",
            "height" => "Height",
            "thickness" => "Thickness as it lies",
            "wall" => "Wall, if it is hollow and open",
            "corner" => "Radius of the corners",
            _ => "Diameter of the hole",
        };

    private static IEnumerable<Fault> OwnPiece(LineEntry line)
    {
        if (line.IsOwn != true)
            yield break;
        if (line.Value.Trim().Length == 0)
            yield return new Fault("value", "Please say what the piece is worth; 0 is an answer too.");
        else if (NumberText.AmountFault("value", "Value you named for it", line.Value) is { } unread)
            yield return unread;
    }

    private static bool IsHiddenAnswered(LineEntry line) =>
        line is { HiddenAnswer: not HiddenAnswer.NotYet, OldCoat: { } coat }
        && (line.HiddenAnswer != HiddenAnswer.Some || line.Hidden.Count > 0 || coat == Answer.Yes);

    /// <summary>The same rules that booking asks, for the fields of this step.</summary>
    private static IEnumerable<Fault> FromDomain(LineEntry line, LengthUnit unit) =>
        LineFaults
            .Of(EntryReading.Line(line, unit, 0))
            .Where(f => f.Field is "width" or "height" or "thickness" or "wall" or "corner" or "hole" or "area" or "value")
            .Select(f => new Fault(f.Field!, f.Text));

    private static IEnumerable<Fault> Picture(LineEntry line)
    {
        if (line.Picture is null && !line.PictureLater && line.Text.Trim().Length == 0 && line.List.Trim().Length == 0)
            yield return new Fault("picture", "Please add a picture or a text, or say that you bring it later.");
        if (line.Text.Trim().Length > LineFaults.MostText)
            yield return new Fault("text", "A text on a piece has at most 200 characters.");
        if (TypeFaces.Missing(line.Text) is { Count: > 0 } signs)
            yield return new Fault(
                "text",
                "We cannot print {0}: our letters have no such sign. Please write it another way.",
                string.Join(" ", signs)
            );
        var rows = TextList.Read(line);
        if (rows.Any(r => r.Fault is not null) || (line.List.Trim().Length > 0 && rows.Count == 0))
            yield return new Fault("list", "Some rows cannot be used. Correct them or take them out.");
    }

    private static IEnumerable<Fault> Look(OrderEntry entry, DateOnly today)
    {
        var line = entry.Line;
        if (line.Finish is null)
            yield return new Fault("finish", "Please choose how it shall look.");
        if (EntryReading.Quantity(line) is not (>= 1 and <= LineFaults.MostPieces))
            yield return new Fault("quantity", "Give a number of pieces between 1 and 1,000.");
        if (entry.Wanted.Length == 0)
            yield break;
        var day = EntryReading.WantedDay(entry.Wanted);
        if (day is null)
            yield return new Fault("wanted", "Please choose a day from the calendar.");
        else if (day < today)
            yield return new Fault("wanted", "This day is over. Choose today or later.");
        else if (day > today.AddYears(2))
            yield return new Fault("wanted", "Choose a day within two years.");
    }

    // Booked at the reckoned price it would be another sum than the one agreed with the customer.
    private static IEnumerable<Fault> ByHand(LineEntry line, int index)
    {
        var field = FormattableString.Invariant($"lines.{index}.{PriceField}");
        if (line.PriceByHand.Trim().Length > 0 && NumberText.AmountFault(field, "Another price", line.PriceByHand) is { } unread)
            yield return unread;
        else if (LineFaults.NoReason(EntryReading.Line(line, LengthUnit.Millimetre, 0)) is { } why)
            yield return new Fault(FormattableString.Invariant($"lines.{index}.{ReasonField}"), why.Text);
    }

    private static IEnumerable<Fault> You(OrderEntry entry)
    {
        if (entry.Customer is not null)
            yield break;
        foreach (var fault in Customer.ContactFaults(new Contact(entry.Name, entry.Email, entry.Phone)))
            yield return new Fault(fault.Field ?? "name", fault.Text);
        if (!entry.ContactAgreed)
            yield return new Fault("contactAgreed", "Please agree that we keep the contact data for this order.");
    }
}
