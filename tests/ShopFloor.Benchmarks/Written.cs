using System.Text;
using System.Text.Json;

namespace ShopFloor.Benchmarks;

/// <summary>A written solution of an oven instance, numbers as in the instance file, ovens and jobs counted from 1.</summary>
internal sealed record WrittenLoads(int Instance, int Weights, long Value, IReadOnlyList<WrittenBatch> Batches)
{
    [System.Text.Json.Serialization.JsonIgnore]
    public string FileName => string.Create(CultureInfo.InvariantCulture, $"{Instance:D3}-w{Weights}.json");
}

internal sealed record WrittenBatch(int Oven, int Attribute, int Start, int End, IReadOnlyList<int> Jobs);

/// <summary>A written solution of a bin-packing instance, items counted from 0.</summary>
internal sealed record WrittenBins(IReadOnlyList<int> Instance, bool Turning, IReadOnlyList<IReadOnlyList<WrittenItem>> Bins);

internal sealed record WrittenItem(int Item, int X, int Y, int W, int H);

/// <summary>Solutions as JSON files.</summary>
internal static class Written
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web)
    {
        UnmappedMemberHandling = System.Text.Json.Serialization.JsonUnmappedMemberHandling.Disallow,
        RespectRequiredConstructorParameters = true,
        RespectNullableAnnotations = true,
    };

    public static void Save<T>(string folder, string name, T solution)
    {
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, name), JsonSerializer.Serialize(solution, Options) + "\n", new UTF8Encoding(false));
    }

    public static T Load<T>(string file)
    {
        try
        {
            return JsonSerializer.Deserialize<T>(File.ReadAllText(file), Options) ?? throw new InputFault($"{file}: the file is empty.");
        }
        catch (JsonException e)
        {
            throw InputFault.At(file, (int)(e.LineNumber ?? 0) + 1, e.Message);
        }
    }
}
