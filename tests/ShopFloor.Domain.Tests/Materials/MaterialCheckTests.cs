using ShopFloor.Domain.Materials;

namespace ShopFloor.Domain.Tests.Materials;

/// <summary>The shipped material list against published properties and limits; the source stands in each row.</summary>
public sealed class MaterialCheckTests
{
    public static TheoryData<string> MaterialRows => CheckValues.Ids("materials");

    [Theory]
    [MemberData(nameof(MaterialRows))]
    public void ShippedMaterial_PublishedPropertyOrLimit_Agrees(string id)
    {
        var row = CheckValues.Row("materials", id);
        var sheet = ShippedMaterials.Find(row.Word("key"));
        Assert.NotNull(sheet);
        switch (row.Quantity)
        {
            case "diffusivity":
                Assert.Equal(row["rho"], sheet.Thermal!.DensityKgM3);
                row.Check(sheet.Thermal.DiffusivityM2S);
                break;
            case "effusivity":
                Assert.Equal(row["k"], sheet.Thermal!.ConductivityWMK);
                row.Check(sheet.Thermal.EffusivityWS05M2K);
                break;
            case "verdict_cure":
                Assert.Equal(Named(row.Word("verdict")), sheet.Cure.At(160 + Suitability.DefaultOvershootKelvin));
                break;
            default:
                Assert.Equal(Named(row.Word("verdict")), sheet.Press.At(190 + Suitability.DefaultOvershootKelvin));
                break;
        }
    }

    private static Verdict Named(string word) =>
        word switch
        {
            "ok" => Verdict.Take,
            "caution" => Verdict.TestPiece,
            _ => Verdict.Refuse,
        };
}
