namespace ShopFloor.Planning.Exchange;

/// <summary>One thing that is wrong with a file, with its place.</summary>
/// <param name="File">Name of the file as the caller gave it.</param>
/// <param name="Line">Line, counted from 1.</param>
/// <param name="Column">Column in bytes, counted from 1.</param>
/// <param name="Path">Where in the document, e.g. <c>pieces[3].route[2].min_s</c>; empty for the whole.</param>
/// <param name="Reason">What is wrong and what would be right.</param>
public sealed record ReadProblem(string File, int Line, int Column, string Path, string Reason)
{
    /// <summary>The line that the console prints: <c>file:line:column path: reason</c>.</summary>
    public override string ToString() =>
        string.Create(CultureInfo.InvariantCulture, $"{File}:{Line}:{Column} {(Path.Length == 0 ? "$" : Path)}: {Reason}");
}

/// <summary>Either what a file says or what is wrong with it, never both.</summary>
/// <typeparam name="T">What was read.</typeparam>
public sealed class ReadResult<T>
    where T : class
{
    private readonly T? value;

    internal ReadResult(T? value, IReadOnlyList<ReadProblem> problems)
    {
        this.value = problems.Count == 0 ? value : null;
        Problems = problems;
    }

    /// <summary>True when the file was read.</summary>
    public bool IsOk => value is not null;

    /// <summary>What is wrong, in the order of the file; empty when all is well.</summary>
    public IReadOnlyList<ReadProblem> Problems { get; }

    /// <summary>What was read.</summary>
    /// <exception cref="InvalidOperationException">There are problems: look at <see cref="IsOk"/> first.</exception>
    public T Value => value ?? throw new InvalidOperationException(string.Join('\n', Problems));
}
