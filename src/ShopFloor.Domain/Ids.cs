namespace ShopFloor.Domain;

/// <summary>A typed id over a version-7 Guid that the application makes.</summary>
/// <typeparam name="TSelf">The id itself.</typeparam>
public interface IId<TSelf>
    where TSelf : struct, IId<TSelf>
{
    /// <summary>The Guid inside.</summary>
    Guid Value { get; }

    /// <summary>The id with that Guid.</summary>
    static abstract TSelf Of(Guid value);
}

/// <summary>Names a customer.</summary>
public readonly record struct CustomerId(Guid Value) : IId<CustomerId>
{
    /// <inheritdoc />
    public static CustomerId Of(Guid value) => new(value);
}

/// <summary>Names an order.</summary>
public readonly record struct OrderId(Guid Value) : IId<OrderId>
{
    /// <inheritdoc />
    public static OrderId Of(Guid value) => new(value);
}

/// <summary>Names a line of an order.</summary>
public readonly record struct OrderLineId(Guid Value) : IId<OrderLineId>
{
    /// <inheritdoc />
    public static OrderLineId Of(Guid value) => new(value);
}

/// <summary>Names one physical piece.</summary>
public readonly record struct PieceId(Guid Value) : IId<PieceId>
{
    /// <inheritdoc />
    public static PieceId Of(Guid value) => new(value);
}

/// <summary>Names a spray round, an oven load or a press session.</summary>
public readonly record struct BatchId(Guid Value) : IId<BatchId>
{
    /// <inheritdoc />
    public static BatchId Of(Guid value) => new(value);
}

/// <summary>Names one version of a recipe.</summary>
public readonly record struct RecipeId(Guid Value) : IId<RecipeId>
{
    /// <inheritdoc />
    public static RecipeId Of(Guid value) => new(value);
}

/// <summary>Names a station.</summary>
public readonly record struct StationId(Guid Value) : IId<StationId>
{
    /// <inheritdoc />
    public static StationId Of(Guid value) => new(value);
}

/// <summary>Names a person who works in the shop.</summary>
public readonly record struct PersonId(Guid Value) : IId<PersonId>
{
    /// <inheritdoc />
    public static PersonId Of(Guid value) => new(value);
}

/// <summary>Names a coating.</summary>
public readonly record struct CoatingId(Guid Value) : IId<CoatingId>
{
    /// <inheritdoc />
    public static CoatingId Of(Guid value) => new(value);
}

/// <summary>Names a can.</summary>
public readonly record struct CanId(Guid Value) : IId<CanId>
{
    /// <inheritdoc />
    public static CanId Of(Guid value) => new(value);
}

/// <summary>Names a kept picture.</summary>
public readonly record struct PictureId(Guid Value) : IId<PictureId>
{
    /// <inheritdoc />
    public static PictureId Of(Guid value) => new(value);
}

/// <summary>Names an entry of a journal.</summary>
public readonly record struct EntryId(Guid Value) : IId<EntryId>
{
    /// <inheritdoc />
    public static EntryId Of(Guid value) => new(value);
}
