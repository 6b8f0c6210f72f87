using ShopFloor.Domain.Glass;

namespace ShopFloor.Domain.Tests.Glass;

/// <summary>Thermal stress of glass; the source stands in each row.</summary>
public sealed class GlassCheckTests
{
    public static TheoryData<string> GlassRows => CheckValues.Ids("glass");

    [Theory]
    [MemberData(nameof(GlassRows))]
    public void GlassStress_PublishedValue_Agrees(string id)
    {
        var row = CheckValues.Row("glass", id);
        row.Check(
            row.Quantity switch
            {
                "per_kelvin" => Kind(row).StressPerKelvin,
                "limit" => Kind(row).StrengthLimitKelvin,
                _ => GlassStress.Factor(row["bi"]),
            }
        );
    }

    private static GlassKind Kind(CheckRow row) => new("any", row["E"], row["nu"], row["a"], row.Or("s", 1), 40, 1, row.Source);
}
