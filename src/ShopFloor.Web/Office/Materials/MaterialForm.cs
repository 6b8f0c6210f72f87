using ShopFloor.Domain;
using ShopFloor.Domain.Materials;
using ShopFloor.Web.Office.Settings;

namespace ShopFloor.Web.Office.Materials;

/// <summary>What is typed about one kind of heat.</summary>
public sealed class HeatEntry(HeatRule rule, string name)
{
    public string Field => name;
    public Verdict Within { get; set; } = rule.Within;
    public string? Limit { get; set; } = NumberText.Write((decimal?)rule.LimitCelsius);
    public Verdict Beyond { get; set; } = rule.Beyond;
    public string? Reason { get; set; } = rule.Reason;
    public Hazard Hazard { get; set; } = rule.Hazard;

    internal HeatRule Read(List<Refusal> faults)
    {
        double? limit = null;
        if (!string.IsNullOrWhiteSpace(Limit))
        {
            var read = NumberText.Read(Limit, $"{name}-limit");
            faults.AddRange(read.Refusals);
            limit = read.IsOk ? (double)read.Value : null;
        }
        return new HeatRule(Within, limit, Beyond, Reason?.Trim() ?? "", Hazard);
    }
}

/// <summary>What is typed into a material's page.</summary>
public sealed class MaterialForm(MaterialSheet? sheet)
{
    private static readonly HeatRule Unknown = new(Verdict.TestPiece, null, Verdict.Refuse, "", Hazard.None);

    public string? Key { get; set; } = sheet?.Key ?? "";
    public string? Name { get; set; } = sheet?.Name ?? "";
    public MaterialClass Class { get; set; } = sheet?.Class ?? MaterialClass.Unknown;
    public HeatEntry Cure { get; } = new(sheet?.Cure ?? Unknown, "cure");
    public HeatEntry Press { get; } = new(sheet?.Press ?? Unknown, "press");
    public string? LimitText { get; set; } = sheet?.LimitText ?? "";
    public string? LimitSource { get; set; } = sheet?.LimitSource ?? "";
    public bool DryFirst { get; set; } = sheet?.DryFirst ?? false;
    public string? Note { get; set; } = sheet?.Note ?? "";

    /// <summary>What to save, or every field that cannot be read.</summary>
    public Result<MaterialInput> Read()
    {
        var faults = new List<Refusal>();
        var (cure, press) = (Cure.Read(faults), Press.Read(faults));
        var start =
            sheet ?? new MaterialSheet(Key ?? "", "", Class, null, "not measured", null, "not measured", cure, press, "", "", false, "");
        return faults.Count > 0
            ? Result<MaterialInput>.Refused(faults)
            : new MaterialInput(
                start with
                {
                    Key = sheet?.Key ?? (Key ?? "").Trim(),
                    Name = Name?.Trim() ?? "",
                    Class = Class,
                    Cure = cure,
                    Press = press,
                    LimitText = LimitText?.Trim() ?? "",
                    LimitSource = LimitSource?.Trim() ?? "",
                    DryFirst = DryFirst,
                    Note = Note?.Trim() ?? "",
                },
                sheet
            );
    }
}

/// <summary>Verdicts and hazards in words.</summary>
public static class MaterialWords
{
    /// <summary>The verdict as people say it.</summary>
    public static string Of(Verdict verdict) =>
        verdict switch
        {
            Verdict.Take => "Take",
            Verdict.TestPiece => "Test piece first",
            _ => "Refuse",
        };

    /// <summary>How it wants to be seen.</summary>
    public static Shared.Look.StatusKind Kind(Verdict verdict) =>
        verdict switch
        {
            Verdict.Take => Shared.Look.StatusKind.Done,
            Verdict.TestPiece => Shared.Look.StatusKind.Attention,
            _ => Shared.Look.StatusKind.Trouble,
        };

    /// <summary>The hazard as people say it.</summary>
    public static string Of(Hazard hazard) =>
        hazard switch
        {
            Hazard.None => "Nothing known",
            Hazard.Fume => "Gives off harmful fumes",
            Hazard.Crack => "Cracks or shatters",
            Hazard.Soften => "Softens, sags, sticks",
            Hazard.Melt => "Melts",
            Hazard.Char => "Darkens or burns",
            Hazard.Unsolder => "Joints come apart",
            Hazard.Burst => "Bursts from pressure inside",
            Hazard.Tint => "Changes colour",
            Hazard.Blister => "Moisture lifts the coat",
            Hazard.Warp => "Shrinks, warps, splits",
            Hazard.NoAdhesion => "The coat does not hold",
            _ => "Poisonous",
        };
}
