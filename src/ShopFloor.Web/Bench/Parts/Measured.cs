using ShopFloor.Domain;
using ShopFloor.Domain.Pieces;
using ShopFloor.Web.Shared.Controls;

namespace ShopFloor.Web.Bench.Parts;

/// <summary>What is being entered at an inspection: measured values and a photo.</summary>
public sealed class Measured
{
    public int? CrossCut { get; set; }
    public decimal? Gloss { get; set; }
    public string? GlossText { get; set; }
    public int? Angle { get; set; } = 60;
    public PictureId? Photo { get; set; }

    /// <summary>The classes to choose from, with what each means.</summary>
    public static IReadOnlyList<Choice<int?>> CrossCuts { get; } =
    [new(null, "not tested"), .. Domain.Pieces.CrossCut.MostPercentOff.Select((p, c) => new Choice<int?>(c, Word(c, p)))];

    /// <summary>The meter's angles.</summary>
    public static IReadOnlyList<Choice<int?>> Angles { get; } = [new(20, "20° (high gloss)"), new(60, "60°"), new(85, "85° (matt)")];

    /// <summary>The findings to send.</summary>
    public Findings Findings(IReadOnlyList<string> seen) =>
        new()
        {
            Seen = seen,
            CrossCutClass = CrossCut,
            GlossUnits = Gloss,
            GlossDegrees = Gloss is null ? null : Angle,
            Photo = Photo,
        };

    /// <summary>Gloss units out of text.</summary>
    public static Result<decimal> ReadGloss(string text) =>
        decimal.TryParse(text.Replace(',', '.'), NumberStyles.Number, CultureInfo.InvariantCulture, out var gloss)
            ? gloss
            : new Refusal("number", "Type a number, e.g. 72.5.", "gloss");

    private static string Word(int grade, int percent) =>
        grade switch
        {
            0 => "0: nothing came off",
            5 => "5: more came off",
            _ => $"{grade}: up to {percent} % came off",
        };
}
