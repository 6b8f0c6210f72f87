namespace ShopFloor.Cli;

/// <summary>Something the person at the console can put right; the message says what.</summary>
internal sealed class BadInputException(string message) : Exception(message);

/// <summary>Files named first, then options of the form <c>--name value</c>.</summary>
internal sealed class CommandLine
{
    private readonly Dictionary<string, string> options = new(StringComparer.Ordinal);

    public CommandLine(string[] args, int files, params string[] known)
    {
        var rest = new List<string>();
        for (var i = 0; i < args.Length; i++)
        {
            if (!args[i].StartsWith("--", StringComparison.Ordinal))
            {
                rest.Add(args[i]);
                continue;
            }
            var name = args[i][2..];
            if (!known.Contains(name, StringComparer.Ordinal))
                throw new BadInputException($"There is no option --{name} here. Options: {string.Join(", ", known.Select(k => "--" + k))}");
            if (i + 1 >= args.Length)
                throw new BadInputException($"Option --{name} needs a value.");
            if (!options.TryAdd(name, args[++i]))
                throw new BadInputException($"Option --{name} is given twice.");
        }
        if (rest.Count != files)
            throw new BadInputException($"{files} file names are needed, {rest.Count} are given.");
        FileNames = rest;
    }

    public IReadOnlyList<string> FileNames { get; }

    public string? Option(string name) => options.GetValueOrDefault(name);

    public string Required(string name) => Option(name) ?? throw new BadInputException($"Option --{name} is missing.");

    public long Number(string name, long? otherwise, long least, long most)
    {
        if (Option(name) is not { } text)
            return otherwise ?? throw new BadInputException($"Option --{name} is missing.");
        if (!long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var value) || value < least || value > most)
            throw new BadInputException($"Option --{name} must be a whole number from {least} to {most}.");
        return value;
    }
}
