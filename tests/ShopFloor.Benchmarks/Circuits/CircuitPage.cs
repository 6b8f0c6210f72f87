using System.Diagnostics;

namespace ShopFloor.Benchmarks.Circuits;

/// <summary>The page of one circuit, kept up to date by its batches: enough of a browser's tree to find a control and its handler.</summary>
internal sealed class CircuitPage
{
    private readonly Dictionary<int, CircuitNode> components = [];
    private readonly Lock gate = new();

    /// <summary>Applies one batch.</summary>
    public void Apply(RenderBatch batch)
    {
        lock (gate)
        {
            foreach (var (component, edits) in batch.Changes())
                Apply(batch, Of(component), edits);
            foreach (var gone in batch.Gone())
                components.Remove(gone);
        }
    }

    /// <summary>The first node that fits, in the order of the page; null when there is none.</summary>
    public CircuitNode? Find(Func<CircuitNode, bool> fits)
    {
        lock (gate)
            return components.Values.SelectMany(c => c.Children).SelectMany(c => c.All()).FirstOrDefault(fits);
    }

    /// <summary>The control with an id or a name.</summary>
    public CircuitNode? Control(string name) =>
        Find(n =>
            n.Element is not null && (n.Attributes.GetValueOrDefault("id") == name || n.Attributes.GetValueOrDefault("name") == name)
        );

    /// <summary>The button or link with these words.</summary>
    public CircuitNode? Button(string words) => Find(n => n.Element is "button" or "a" && n.Words == words);

    /// <summary>The heading of the page.</summary>
    public string? Heading => Find(n => n.Element == "h1")?.Words;

    private CircuitNode Of(int component) =>
        components.TryGetValue(component, out var node) ? node : components[component] = new CircuitNode(null, null);

    private void Apply(RenderBatch batch, CircuitNode root, IReadOnlyList<Edit> edits)
    {
        var path = new Stack<CircuitNode>([root]);
        var moves = new List<(int From, int To)>();
        foreach (var edit in edits)
        {
            var here = path.Peek();
            switch (edit.Kind)
            {
                case EditKind.PrependFrame:
                    Insert(batch, here, edit.At, edit.Number);
                    break;
                case EditKind.RemoveFrame:
                    here.Children.RemoveAt(edit.At);
                    break;
                case EditKind.SetAttribute:
                    Set(here.Children[edit.At], batch.FrameAt(edit.Number));
                    break;
                case EditKind.RemoveAttribute:
                    here.Children[edit.At].Attributes.Remove(edit.Name!);
                    here.Children[edit.At].Handlers.Remove(edit.Name!);
                    break;
                case EditKind.UpdateText or EditKind.UpdateMarkup:
                    here.Children[edit.At].Own = batch.FrameAt(edit.Number).Name;
                    break;
                case EditKind.StepIn:
                    path.Push(here.Children[edit.At]);
                    break;
                case EditKind.StepOut:
                    path.Pop();
                    break;
                case EditKind.PermutationEntry:
                    moves.Add((edit.At, edit.Number));
                    break;
                case EditKind.PermutationEnd:
                    Permute(here.Children, moves);
                    break;
                default:
                    throw new UnreachableException($"Edit {edit.Kind} is not known.");
            }
        }
    }

    private static void Permute(List<CircuitNode> children, List<(int From, int To)> moves)
    {
        var before = children.ToArray();
        foreach (var (from, to) in moves)
            children[to] = before[from];
        moves.Clear();
    }

    /// <summary>Puts the frame and what is below it among the children; how many children that made.</summary>
    private int Insert(RenderBatch batch, CircuitNode parent, int at, int number)
    {
        var frame = batch.FrameAt(number);
        switch (frame.Kind)
        {
            case FrameKind.Region:
                return InsertRange(batch, parent, at, number + 1, number + frame.Length);
            case FrameKind.Component:
                var place = components[(int)frame.Number] = new CircuitNode(null, null);
                parent.Children.Insert(at, place);
                return 1;
            case FrameKind.Text or FrameKind.Markup:
                parent.Children.Insert(at, new CircuitNode(null, frame.Name));
                return 1;
            case FrameKind.Element:
                var element = new CircuitNode(frame.Name, null);
                parent.Children.Insert(at, element);
                InsertRange(batch, element, 0, number + 1, number + frame.Length);
                return 1;
            default:
                return 0;
        }
    }

    private int InsertRange(RenderBatch batch, CircuitNode parent, int at, int from, int to)
    {
        var start = at;
        for (var number = from; number < to; )
        {
            var frame = batch.FrameAt(number);
            if (frame.Kind == FrameKind.Attribute)
                Set(parent, frame);
            else
                at += Insert(batch, parent, at, number);
            number += frame.Length;
        }
        return at - start;
    }

    private static void Set(CircuitNode node, Frame attribute)
    {
        if (attribute.Number > 0)
            node.Handlers[attribute.Name!] = attribute.Number;
        else
            node.Attributes[attribute.Name!] = attribute.Value;
    }
}
