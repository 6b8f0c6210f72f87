using ShopFloor.Domain.Pictures;

namespace ShopFloor.Domain.Tests.Pictures;

/// <summary>Published viewing distances and paper sizes; the source stands in each row.</summary>
public sealed class PictureCheckTests
{
    public static TheoryData<string> PictureRows => CheckValues.Ids("picture");

    [Theory]
    [MemberData(nameof(PictureRows))]
    public void Resolution_PublishedValue_Agrees(string id)
    {
        var row = CheckValues.Row("picture", id);
        row.Check(
            row.Quantity switch
            {
                "arcminute" => row["x"] / PictureResolution.DistanceOverSizeAtOneArcMinute,
                "distance_in" => PictureResolution.DistanceOverSizeAtOneArcMinute / row["ppi"],
                "needed" => PictureResolution.NeededPpi(row["mm"]),
                "ppi" => PictureResolution.Ppi(row["px"], row["mm"]),
                "pixels" => PictureResolution.PixelsFor(row["mm"], row["ppi"]),
                _ => throw new InvalidOperationException($"No computation for {row.Quantity}."),
            }
        );
    }
}
