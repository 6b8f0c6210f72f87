using System.Buffers.Binary;
using System.Text;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>What an edit does to the tree; the numbers are the framework's.</summary>
internal enum EditKind
{
    PrependFrame = 1,
    RemoveFrame = 2,
    SetAttribute = 3,
    RemoveAttribute = 4,
    UpdateText = 5,
    StepIn = 6,
    StepOut = 7,
    UpdateMarkup = 8,
    PermutationEntry = 9,
    PermutationEnd = 10,
}

/// <summary>What a frame describes; the numbers are the framework's.</summary>
internal enum FrameKind
{
    Element = 1,
    Text = 2,
    Attribute = 3,
    Component = 4,
    Region = 5,
    Markup = 8,
}

/// <summary>One edit. <see cref="At"/> counts logical children of the node stepped into.</summary>
/// <param name="Kind">What happens.</param>
/// <param name="At">Child, counted from 0.</param>
/// <param name="Number">Frame of the new content, or the place a child moves to.</param>
/// <param name="Name">Name of a removed attribute.</param>
internal readonly record struct Edit(EditKind Kind, int At, int Number, string? Name);

/// <summary>One frame. <see cref="Length"/> counts the frame and what is below it.</summary>
/// <param name="Kind">What it describes.</param>
/// <param name="Length">Frames of the subtree, itself included; 1 for a leaf.</param>
/// <param name="Name">Name of an element or attribute, text of a text or markup.</param>
/// <param name="Value">Value of an attribute.</param>
/// <param name="Number">Handler of an event attribute, or the component's number.</param>
internal readonly record struct Frame(FrameKind Kind, int Length, string? Name, string? Value, ulong Number);

/// <summary>Reads one batch of rendering as the server sends it: differences of components, frames, and a table of texts at the end.</summary>
internal sealed class RenderBatch(byte[] data)
{
    private const int EditLength = 16;
    private const int FrameLength = 20;
    private readonly int updated = Int(data, data.Length - 20);
    private readonly int frames = Int(data, data.Length - 16);
    private readonly int disposed = Int(data, data.Length - 12);
    private readonly int texts = Int(data, data.Length - 4);

    /// <summary>The components that changed, each with its edits in order.</summary>
    public IEnumerable<(int Component, IReadOnlyList<Edit> Edits)> Changes()
    {
        for (var i = 0; i < Int(data, updated); i++)
        {
            var at = Int(data, updated + 4 + 4 * i);
            var edits = new Edit[Int(data, at + 4)];
            for (var e = 0; e < edits.Length; e++)
                edits[e] = EditAt(at + 8 + EditLength * e);
            yield return (Int(data, at), edits);
        }
    }

    /// <summary>Components that are gone.</summary>
    public IEnumerable<int> Gone() => Enumerable.Range(0, Int(data, disposed)).Select(i => Int(data, disposed + 4 + 4 * i));

    /// <summary>A frame by its number.</summary>
    public Frame FrameAt(int number)
    {
        var at = frames + 4 + FrameLength * number;
        var (kind, second) = ((FrameKind)Int(data, at), Int(data, at + 4));
        return kind switch
        {
            FrameKind.Element => new(kind, second, Text(Int(data, at + 8)), null, 0),
            FrameKind.Component => new(kind, second, null, null, (ulong)Int(data, at + 8)),
            FrameKind.Region => new(kind, second, null, null, 0),
            FrameKind.Attribute => new(kind, 1, Text(second), Text(Int(data, at + 8)), Long(data, at + 12)),
            FrameKind.Text or FrameKind.Markup => new(kind, 1, Text(second), null, 0),
            _ => new(kind, 1, null, null, 0),
        };
    }

    private Edit EditAt(int at) =>
        (EditKind)Int(data, at) is var kind && kind is EditKind.RemoveAttribute
            ? new(kind, Int(data, at + 4), 0, Text(Int(data, at + 12)))
            : new(kind, Int(data, at + 4), Int(data, at + 8), null);

    // A text is its length in bytes, seven bits at a time, then UTF-8.
    private string? Text(int number)
    {
        if (number < 0)
            return null;
        var (at, length, shift) = (Int(data, texts + 4 * number), 0, 0);
        byte part;
        do
        {
            part = data[at++];
            length |= (part & 127) << shift;
            shift += 7;
        } while ((part & 128) != 0);
        return Encoding.UTF8.GetString(data, at, length);
    }

    private static int Int(byte[] data, int at) => BinaryPrimitives.ReadInt32LittleEndian(data.AsSpan(at));

    private static ulong Long(byte[] data, int at) => BinaryPrimitives.ReadUInt64LittleEndian(data.AsSpan(at));
}
