using ShopFloor.Domain.Pieces;
using ShopFloor.Domain.Recipes;

namespace ShopFloor.Web.Bench.Moves;

/// <summary>Steps in the words of the workshop.</summary>
public static class StepWords
{
    /// <summary>What is done, e.g. <c>Spray clear</c>.</summary>
    public static string Of(RecipeStep step) =>
        step.Kind switch
        {
            StepKind.Wipe => "Wipe promoter",
            StepKind.Spray => $"Spray {Of(step.Coating)}",
            StepKind.Rest => step.CoolToCelsius is null ? "Flash-off" : "Cool",
            StepKind.Tape => "Tape the print",
            _ => step.Kind.ToString(),
        };

    /// <summary>A step of a piece; of several coats of one coating it says which, e.g. <c>Spray matt, coat 2 of 2</c>.</summary>
    public static string Of(Piece piece, WorkItem item)
    {
        var coats = item.Kind == StepKind.Spray ? Coats(piece, item) : [];
        return coats.Count > 1 ? $"{Of(item.Settings)}, coat {coats.IndexOf(item.Number) + 1} of {coats.Count}" : Of(item.Settings);
    }

    private static List<int> Coats(Piece piece, WorkItem item) =>
        [
            .. piece
                .Items.Where(i => i.Kind == StepKind.Spray && i.Settings.Coating == item.Settings.Coating)
                .Select(i => i.Number)
                .Distinct()
                .Order(),
        ];

    /// <summary>A coating's word.</summary>
    public static string Of(CoatingKind? coating) =>
        coating switch
        {
            CoatingKind.WhiteBase => "white base",
            null => "",
            _ => coating.Value.ToString().ToLowerInvariant(),
        };

    /// <summary>A batch's word.</summary>
    public static string Of(BatchKind kind) =>
        kind switch
        {
            BatchKind.SprayRound => "Spray round",
            BatchKind.OvenLoad => "Oven load",
            _ => "Press session",
        };

    /// <summary>A finish's word.</summary>
    public static string Of(Finish finish) => finish.Words().ToLowerInvariant();

    /// <summary>Seconds as people say them.</summary>
    public static string Span(long seconds) =>
        seconds switch
        {
            < 120 => $"{seconds} s",
            < 7200 when seconds % 60 == 0 => $"{seconds / 60} min",
            < 7200 => $"{seconds / 60} min {seconds % 60} s",
            _ => $"{seconds / 3600} h {seconds / 60 % 60} min",
        };

    /// <summary>The window of a step, e.g. <c>15 to 20 min</c>.</summary>
    public static string Window(int min, int? max)
    {
        if (max is null)
            return $"at least {Span(min)}";
        if (min == max)
            return Span(min);
        if (max < 120)
            return $"{min} to {max} s";
        // Long ones in whole minutes inside the window: 16:00 to 20:59 would be read as a time of day.
        var (first, last) = ((min + 59) / 60, max.Value / 60);
        return (max >= WholeMinutesFrom && first < last) || (min % 60 == 0 && max % 60 == 0)
            ? $"{first} to {last} min"
            : $"{Clock(min)} to {Clock(max.Value)} min";
    }

    private const int WholeMinutesFrom = 600;

    private static string Clock(int seconds) => string.Create(CultureInfo.InvariantCulture, $"{seconds / 60}:{seconds % 60:00}");

    /// <summary>One piece, or so many.</summary>
    public static string Pieces(int count) => count == 1 ? "1 piece" : $"{count} pieces";

    /// <summary>The customer's pieces, with the test pieces named beside them.</summary>
    public static string Pieces(int own, int tests) =>
        tests == 0 ? Pieces(own) : $"{Pieces(own)}, {(tests == 1 ? "1 test piece" : $"{tests} test pieces")}";
}
