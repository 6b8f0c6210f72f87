using System.Text.Json;
using ShopFloor.Data;
using ShopFloor.Domain;
using ShopFloor.Domain.Orders;
using ShopFloor.Web.Counter.Entries;
using ShopFloor.Web.Counter.Offers;

namespace ShopFloor.Web.Counter.Drafts;

/// <summary>
/// What a draft row holds. Screens write the entry, uploads write the pictures: neither undoes the other's work, because each keeps the
/// other's part as it finds it.
/// </summary>
/// <param name="Edit">Counts the changes of the entry.</param>
/// <param name="Entry">What was typed.</param>
/// <param name="Incoming">Pictures that came in and wait for the screen to take them.</param>
public sealed record KeptOrder(int Edit, OrderEntry Entry, IReadOnlyList<IncomingPicture> Incoming)
{
    /// <summary>Kind of such drafts.</summary>
    public const string Kind = "order";

    /// <summary>What was offered for it in writing; null: nothing.</summary>
    public KeptOffer? Offer { get; init; }

    public static KeptOrder Of(Draft draft) =>
        JsonSerializer.Deserialize<KeptOrder>(draft.Json, JsonForms.Default)
        ?? throw new InvalidOperationException($"Draft {draft.Id} holds no order.");

    /// <summary>The pictures it names.</summary>
    public IEnumerable<PictureId> Pictures =>
        [.. Incoming.Select(p => p.Picture.Id), .. Entry.Lines.SelectMany(l => l.Photos.Concat(l.Picture is { } p ? [p.Id] : []))];

    public string ToJson() => JsonSerializer.Serialize(this, JsonForms.Default);
}

/// <summary>A picture that an upload put on a draft.</summary>
/// <param name="Picture">The picture.</param>
/// <param name="Line">Index of the line.</param>
/// <param name="IsPhoto">True: a photograph of the piece's condition; false: the picture to print.</param>
/// <param name="Notes">What the customer should know of it.</param>
public sealed record IncomingPicture(PictureEntry Picture, int Line, bool IsPhoto, IReadOnlyList<string> Notes);
