namespace ShopFloor.Benchmarks;

/// <summary>A command of the benchmark program.</summary>
/// <param name="Name">First word on the command line.</param>
/// <param name="Usage">Its options.</param>
/// <param name="Run">Does it; the exit code.</param>
internal sealed record Command(string Name, string Usage, Func<Arguments, int> Run);

/// <summary>Options of the form <c>--name value</c>.</summary>
internal sealed class Arguments
{
    private readonly Dictionary<string, string> values = new(StringComparer.Ordinal);

    public Arguments(ReadOnlySpan<string> args)
    {
        for (var i = 0; i < args.Length; i += 2)
        {
            if (!args[i].StartsWith("--", StringComparison.Ordinal) || i + 1 == args.Length)
                throw new InputFault($"Option '{args[i]}' must have the form --name value.");
            values[args[i][2..]] = args[i + 1];
        }
    }

    /// <summary>An option that must be there.</summary>
    public string Text(string name) => TryText(name) ?? throw new InputFault($"Option --{name} is missing.");

    /// <summary>An option, or null.</summary>
    public string? TryText(string name) => values.GetValueOrDefault(name);

    /// <summary>A number, or the default when the option is absent.</summary>
    public double Number(string name, double otherwise) =>
        TryText(name) is not { } text ? otherwise
        : double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) ? value
        : throw new InputFault($"Option --{name}: '{text}' is no number.");

    /// <summary>A list of whole numbers separated by commas, or null when the option is absent.</summary>
    public int[]? Numbers(string name) =>
        TryText(name) is not { } text
            ? null
            :
            [
                .. text.Split(',')
                    .Select(part =>
                        int.TryParse(part, NumberStyles.None, CultureInfo.InvariantCulture, out var value)
                            ? value
                            : throw new InputFault($"Option --{name}: '{part}' is no whole number.")
                    ),
            ];

    /// <summary>A folder that must exist.</summary>
    public string Folder(string name)
    {
        var path = Text(name);
        return Directory.Exists(path) ? path : throw new InputFault($"The folder '{path}' of --{name} is not there.");
    }
}
