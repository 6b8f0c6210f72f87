namespace ShopFloor.Domain;

/// <summary>A "no" that a person caused and can answer: the program says why and what to do, and nothing is changed.</summary>
/// <param name="Code">Stable machine name in kebab case, e.g. <c>piece-too-large</c>.</param>
/// <param name="Text">One plain sentence for the person, which also says how to go on.</param>
/// <param name="Field">The input field that it concerns, or null when it concerns the whole.</param>
public sealed record Refusal(string Code, string Text, string? Field = null);

/// <summary>Either a value or one or more refusals, never both.</summary>
/// <typeparam name="T">The value on success.</typeparam>
public readonly record struct Result<T>
{
    private readonly T? value;
    private readonly IReadOnlyList<Refusal>? refusals;

    private Result(T? value, IReadOnlyList<Refusal>? refusals)
    {
        this.value = value;
        this.refusals = refusals;
    }

    /// <summary>True when there is a value.</summary>
    public bool IsOk => refusals is null;

    /// <summary>The refusals; empty on success.</summary>
    public IReadOnlyList<Refusal> Refusals => refusals ?? [];

    /// <summary>The value.</summary>
    /// <exception cref="InvalidOperationException">There is none: look at <see cref="IsOk"/> first.</exception>
    public T Value =>
        refusals is null ? value! : throw new InvalidOperationException($"No value: {string.Join("; ", refusals.Select(r => r.Text))}");

    /// <summary>A success.</summary>
    public static Result<T> Ok(T value) => new(value, null);

    /// <summary>A failure.</summary>
    /// <exception cref="ArgumentException">The list is empty: a failure has a reason.</exception>
    public static Result<T> Refused(IReadOnlyList<Refusal> refusals) =>
        refusals.Count > 0 ? new(default, refusals) : throw new ArgumentException("A refusal needs a reason.", nameof(refusals));

    /// <summary>A failure with one reason.</summary>
    public static Result<T> Refused(string code, string text, string? field = null) => new(default, [new Refusal(code, text, field)]);

    /// <summary>A value converts to a success.</summary>
    public static implicit operator Result<T>(T value) => Ok(value);

    /// <summary>A refusal converts to a failure.</summary>
    public static implicit operator Result<T>(Refusal refusal) => new(default, [refusal]);

    /// <summary>Goes on with the value, or hands the refusals through.</summary>
    public Result<TNext> Then<TNext>(Func<T, Result<TNext>> next) => IsOk ? next(value!) : Result<TNext>.Refused(Refusals);
}

/// <summary>The value of a success that has nothing to say.</summary>
public readonly record struct Done;
