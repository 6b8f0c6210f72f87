using ShopFloor.Domain.Heat;
using ShopFloor.Domain.Yield;

namespace ShopFloor.Domain.Tests.Yield;

/// <summary>Published intervals, yields and energies; the source stands in each row.</summary>
public sealed class YieldCheckTests
{
    public static TheoryData<string> WilsonRows => CheckValues.Ids("wilson");

    public static TheoryData<string> YieldRows => CheckValues.Ids("yield_energy");

    [Theory]
    [MemberData(nameof(WilsonRows))]
    public void Likely_PublishedInterval_Agrees(string id)
    {
        var row = CheckValues.Row("wilson", id);
        var z = row["conf"].Equals(0.9) ? RejectRate.Z90 : RejectRate.Z95;
        var share = RejectRate.Likely((int)row["x"], (int)row["n"], z).Value.Value;
        row.Check(row.Quantity == "wilson_lower" ? share.Low : share.High);
    }

    [Theory]
    [MemberData(nameof(YieldRows))]
    public void YieldAndEnergy_PublishedValue_Agrees(string id)
    {
        var row = CheckValues.Row("yield_energy", id);
        row.Check(
            row.Quantity switch
            {
                "rolled" => ProcessYield.Rolled([.. row.Inputs.Keys.Select(key => row[key])]).Value.Value,
                "first_pass" => ProcessYield.FirstPass((int)row["n"], (int)row["scrap"], (int)row["rework"]).Value,
                "blanks" => ProcessYield.BlanksToStart((int)row["good"], row["y"]).Value.Value,
                "at_least" => ProcessYield.AtLeast((int)row["good"], (int)row["start"], row["y"]),
                "succession" => RejectRate.Estimate((int)row["s"], (int)row["n"]).Value.Value,
                "kwh" => EnergyUse.KilowattHours(row["w"], row["h"], row.Or("duty", 1)).Value.Value,
                "sensible" => EnergyUse.SensibleKilojoules(row["mass"], row["cp"], row["T0"], row["T"]),
                _ => throw new InvalidOperationException($"No computation for {row.Quantity}."),
            }
        );
    }
}
