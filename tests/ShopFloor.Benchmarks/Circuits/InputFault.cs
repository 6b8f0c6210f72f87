namespace ShopFloor.Benchmarks;

/// <summary>Something in a file or on the command line that cannot be used; the message says where and why.</summary>
internal sealed class InputFault(string message) : Exception(message)
{
    /// <summary>A fault at a line of a file.</summary>
    public static InputFault At(string file, int line, string reason) =>
        new(string.Create(CultureInfo.InvariantCulture, $"{file}:{line}: {reason}"));
}
