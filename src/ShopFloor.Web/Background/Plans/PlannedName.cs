namespace ShopFloor.Web.Background.Plans;

/// <summary>
/// What people call a batch that is only planned. The plan's own names (<c>L2</c>) read like the labels of real batches (<c>L-2</c>), which
/// are others: so a planned one goes by a letter.
/// </summary>
public static class PlannedName
{
    /// <summary>A letter for a batch that the plan named, e.g. <c>B</c> for <c>L2</c>; a real batch, which has begun, keeps its code.</summary>
    /// <param name="id">Its name in the plan.</param>
    public static string Of(string id) =>
        id is ['L' or 'S' or 'R', .. var digits]
        && int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
        && number > 0
            ? Letters(number)
            : id;

    // A to Z, then AA and on, as the columns of a sheet.
    private static string Letters(int number)
    {
        var said = "";
        for (var left = number; left > 0; left = (left - 1) / 26)
            said = (char)('A' + (left - 1) % 26) + said;
        return said;
    }
}
