using ShopFloor.Web.Counter.Entries;

namespace ShopFloor.Web.Counter.Intake;

/// <summary>The words of the steps, keys of the Counter's texts.</summary>
public static class StepWords
{
    /// <summary>The question of a step.</summary>
    public static string Title(CounterStep step) =>
        step switch
        {
            CounterStep.Piece => "What shall we work on?",
            CounterStep.Size => "How large is it?",
            CounterStep.Picture => "What shall be on it?",
            CounterStep.Look => "How shall it look?",
            CounterStep.You => "Who is it for?",
            _ => "Is everything right?",
        };

    /// <summary>One word for the bar.</summary>
    public static string Short(CounterStep step) =>
        step switch
        {
            CounterStep.Piece => "Piece",
            CounterStep.Size => "Size",
            CounterStep.Picture => "Picture",
            CounterStep.Look => "Look",
            CounterStep.You => "You",
            _ => "Check",
        };

    /// <summary>The field in which typing begins; null where a step begins with a choice.</summary>
    public static string? FirstField(CounterStep step) =>
        step switch
        {
            CounterStep.Size => "width",
            CounterStep.You => "name",
            _ => null,
        };
}
