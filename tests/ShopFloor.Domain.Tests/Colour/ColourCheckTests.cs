using ShopFloor.Domain.Colour;

namespace ShopFloor.Domain.Tests.Colour;

/// <summary>Published colour values; the source stands in each row.</summary>
public sealed class ColourCheckTests
{
    public static TheoryData<string> Ciede2000Rows => CheckValues.Ids("ciede2000");

    public static TheoryData<string> SrgbRows => CheckValues.Ids("srgb");

    public static TheoryData<string> LabRows => CheckValues.Ids("lab");

    public static TheoryData<string> MetalRows => CheckValues.Ids("metals_colour");

    public static TheoryData<string> InkRows => CheckValues.Ids("ink_on_ground");

    [Theory]
    [MemberData(nameof(Ciede2000Rows))]
    public void Ciede2000_PublishedPair_AgreesBothWays(string id)
    {
        var row = CheckValues.Row("ciede2000", id);
        var (first, second) = (new Lab(row["L1"], row["a1"], row["b1"]), new Lab(row["L2"], row["a2"], row["b2"]));
        row.Check(Ciede2000.Difference(first, second));
        row.Check(Ciede2000.Difference(second, first));
    }

    [Theory]
    [MemberData(nameof(SrgbRows))]
    public void Srgb_PublishedValue_Agrees(string id)
    {
        var row = CheckValues.Row("srgb", id);
        row.Check(
            row.Quantity switch
            {
                "decode8" => Srgb.DecodeByte((byte)row["v"]),
                "decode" => Srgb.Decode(row["v"]),
                _ => Srgb.Encode(row["v"]),
            }
        );
    }

    [Theory]
    [MemberData(nameof(LabRows))]
    public void Lab_PublishedValue_Agrees(string id)
    {
        var row = CheckValues.Row("lab", id);
        row.Check(
            row.Quantity switch
            {
                "XYZ_to_Lab" => Part(
                    row,
                    Lab.From(new Xyz(row["x"], row["y"], row["z"]), row["white"].Equals(65.0) ? WhitePoint.D65 : WhitePoint.D50)
                ),
                "sRGB8_to_LabD65" => Part(row, Rgb(row).ToLab()),
                "sRGB8_to_LabD50_Bradford" => Part(row, Lab.From(Rgb(row).ToXyz().FromD65ToD50(), WhitePoint.D50)),
                // A matrix element shows when one channel alone is on.
                "Bradford_D65_to_D50" => Element(row, (a, b, c) => new Xyz(a, b, c).FromD65ToD50()),
                "linsRGB_to_XYZ" => Element(row, (a, b, c) => new LinearRgb(a, b, c).ToXyz()),
                _ => throw new InvalidOperationException($"No computation for {row.Quantity}."),
            }
        );
    }

    [Theory]
    [MemberData(nameof(MetalRows))]
    public void Metal_ColourFromOpticalConstants_Agrees(string id)
    {
        var row = CheckValues.Row("metals_colour", id);
        if (row.Quantity == "clear_Y")
        {
            var shipped = Shipped(row.Word("metal"));
            row.Check(shipped.ToXyz().Y);
            return;
        }

        var colour = new LinearRgb(row["r"], row["g"], row["b"]);
        row.Check(
            row.Quantity switch
            {
                "bare_Y" => colour.ToXyz().Y,
                "bare_L" => colour.ToLab().L,
                "bare_a" => colour.ToLab().A,
                "bare_b" => colour.ToLab().B,
                "bare_sRGB_R" => colour.ToSrgb().R,
                "bare_sRGB_G" => colour.ToSrgb().G,
                _ => colour.ToSrgb().B,
            }
        );
    }

    [Theory]
    [MemberData(nameof(InkRows))]
    public void InkOnGround_PublishedOrDerived_Agrees(string id)
    {
        var row = CheckValues.Row("ink_on_ground", id);
        row.Check(
            row.Quantity switch
            {
                "ks" => KubelkaMunk.AbsorptionOverScattering(row["r"]),
                "opaque" => KubelkaMunk.OpaqueReflectance(row["ks"]),
                "film" => KubelkaMunk.OverBacking(row["ks"], row["sx"], row["rg"]),
                "contrast" => KubelkaMunk.ContrastRatio(row["ks"], row["sx"]),
                // T is one pass; the print's reflectance on white is T².
                "double_pass" => new PrintLook(LinearRgb.Grey(row["rg"])).Reflectance(LinearRgb.Grey(row["t"] * row["t"])).G,
                "ground_L" => new LinearRgb(row["r"], row["g"], row["b"]).ToLab().L,
                "ground_a" => new LinearRgb(row["r"], row["g"], row["b"]).ToLab().A,
                "ground_b" => new LinearRgb(row["r"], row["g"], row["b"]).ToLab().B,
                _ => throw new InvalidOperationException($"No computation for {row.Quantity}."),
            }
        );
    }

    private static LinearRgb Rgb(CheckRow row) => LinearRgb.FromSrgb((byte)row["r"], (byte)row["g"], (byte)row["b"]);

    private static double Part(CheckRow row, Lab lab) =>
        (int)row["part"] switch
        {
            1 => lab.L,
            2 => lab.A,
            _ => lab.B,
        };

    private static double Element(CheckRow row, Func<double, double, double, Xyz> map)
    {
        var column = (int)row["part"];
        var xyz = map(column == 1 ? 1 : 0, column == 2 ? 1 : 0, column == 3 ? 1 : 0);
        return (int)row["row"] switch
        {
            0 => xyz.X,
            1 => xyz.Y,
            _ => xyz.Z,
        };
    }

    private static LinearRgb Shipped(string metal) =>
        metal switch
        {
            "aluminium" => GroundColours.Aluminium,
            "copper" => GroundColours.Copper,
            "brass 70/30" => GroundColours.Brass,
            "stainless austenitic" => GroundColours.Stainless,
            "iron" => GroundColours.Iron,
            _ => GroundColours.Nickel,
        };
}
