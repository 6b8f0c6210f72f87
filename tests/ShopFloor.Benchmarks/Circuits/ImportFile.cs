using System.Text;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>A file to take in.</summary>
internal sealed record ImportFile(bool IsOrders, string Text)
{
    /// <summary>The one customer of all the orders.</summary>
    public static ImportFile Customer { get; } =
        new(IsOrders: false, "external_id,name,email,country,city\nc1,Ida,ida@example.org,DE,Moorstedt\n");

    /// <summary>Orders of one plate each, of a hundred different sizes, or one order of so many plates of the size of a sheet.</summary>
    public static ImportFile Orders(string name, int rows, bool together = false)
    {
        var file = new StringBuilder("order,customer,promised,material,finish,quantity,width_mm,height_mm,thickness_mm,nothing_hidden\n");
        var day = DateOnly.FromDateTime(TimeProvider.System.GetUtcNow().UtcDateTime).AddDays(30);
        for (var n = 1; n <= rows; n++)
            file.AppendLine(
                CultureInfo.InvariantCulture,
                $"{(together ? name : $"{name}-{n}")},c1,{day:yyyy-MM-dd},al,white ground,1,{(together ? "180,135" : $"{50 + n % 100},60")},1,yes"
            );
        return new(IsOrders: true, file.ToString());
    }
}
